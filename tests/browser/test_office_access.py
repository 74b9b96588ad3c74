"""Quotes, fares and files on cheap phones, in French, in large text, and for readers aloud."""

import pytest

from tests.browser.holders import people_of, take_on
from tests.browser.looks import holds_in_each_look
from tests.browser.office import office_addresses
from tests.browser.screens import too_wide
from tests.browser.test_parcels_access import SMALL, open_wide


@pytest.fixture
def managing(phone, soon):
    """A phone of a manager, and all addresses of the office."""

    def held(**how):
        page = phone(**how)
        page.goto("/who")
        person = people_of(page, "manager")[0]
        take_on(page, person)
        return page, list(office_addresses(page, person, soon))

    return held


def test_each_screen_can_be_read_in_light_in_dark_and_in_large_text(managing):
    page, screens = managing()
    for screen in screens:
        open_wide(page, screen)
        holds_in_each_look(page, screen)


@pytest.mark.parametrize("locale", ["fr-FR", "mg-MG", "sw-TZ"])
def test_no_screen_is_wider_than_the_smallest_phone_and_all_can_be_touched(managing, locale):
    page, screens = managing(width=320, locale=locale)
    for screen in screens:
        open_wide(page, screen)
        assert (screen, too_wide(page), page.evaluate(SMALL)) == (screen, 0, [])
