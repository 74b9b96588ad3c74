"""Quotes, fares and files on cheap phones, in French, in large text, and for readers aloud."""

import pytest
from axe_playwright_python.sync_playwright import Axe

from tests.browser.holders import people_of, take_on
from tests.browser.landing import DEARER_MINOR, departure_soon
from tests.browser.office import office_addresses
from tests.browser.screens import too_wide
from tests.browser.test_access import TWICE
from tests.browser.test_parcels_access import SMALL, open_wide


@pytest.fixture(scope="module")
def soon(address, data):
    """A vehicle that leaves soon, and on the days after."""
    return departure_soon(data, DEARER_MINOR)


@pytest.fixture
def managing(phone, soon):
    """A phone of a manager, and all addresses of the office."""

    def held(*, large=False, **how):
        page = phone(**how)
        if large:
            page.add_init_script(f"addEventListener('DOMContentLoaded', () => {{ {TWICE} }})")
        page.goto("/who")
        person = people_of(page, "manager")[0]
        take_on(page, person)
        return page, list(office_addresses(page, person, soon))

    return held


@pytest.mark.parametrize("colours", ["light", "dark"])
def test_axe_finds_nothing_on_any_screen(managing, colours):
    page, screens = managing(colours=colours)
    for screen in screens:
        open_wide(page, screen)
        found = Axe().run(page).response["violations"]
        assert [(screen, one["id"], one["nodes"][0]["html"]) for one in found] == []


@pytest.mark.parametrize("locale", ["fr-FR", "mg-MG", "sw-TZ"])
def test_no_screen_is_wider_than_the_smallest_phone_and_all_can_be_touched(managing, locale):
    page, screens = managing(width=320, locale=locale)
    for screen in screens:
        open_wide(page, screen)
        assert (screen, too_wide(page), page.evaluate(SMALL)) == (screen, 0, [])


def test_text_of_twice_the_size_makes_no_screen_wider(managing):
    page, screens = managing(large=True)
    for screen in screens:
        open_wide(page, screen)
        assert (screen, too_wide(page)) == (screen, 0)
