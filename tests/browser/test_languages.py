"""Four languages: which one a phone begins with, what it keeps of them, and what it says without a signal."""

import re

import pytest
from axe_playwright_python.sync_playwright import Axe

from tests.browser.conftest import LANGUAGES
from tests.browser.screens import SLOT, open_departures, open_slot, too_wide, wait_until_kept, words_kept

SWAHILI = "Kiswahili"


def choose(page, language):
    page.locator(".languages").select_option(language)


def spoken(page):
    return page.locator("html").get_attribute("lang")


@pytest.mark.parametrize(
    ("locale", "language"),
    [("en-ZM", "en"), ("fr-CD", "fr"), ("mg-MG", "mg"), ("sw-TZ", "sw"), ("pt-MZ", "en")],
)
def test_a_phone_begins_in_its_own_language_and_keeps_no_other(phone, words, locale, language):
    page = open_departures(phone(locale=locale))
    assert spoken(page) == language
    assert page.locator("h1").inner_text() == words[language]["departures.title"]
    assert page.get_by_text(words[language]["language.unread"]).is_visible()
    wait_until_kept(page)
    assert words_kept(page) == [language]


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_first_screen_can_be_read_aloud_and_fits_in_every_language(phone, language):
    page = open_departures(phone(width=320, locale=language))
    found = Axe().run(page).response["violations"]
    assert [(one["id"], one["nodes"][0]["html"]) for one in found] == []
    assert too_wide(page) == 0
    assert (
        page.locator(".ways a").evaluate_all(
            "(ways) => ways.filter((way) => way.scrollWidth > way.clientWidth).map((way) => way.textContent)"
        )
        == []
    )


def test_a_language_that_was_chosen_once_opens_without_a_signal(phone, words):
    page = open_departures(phone())
    wait_until_kept(page)
    choose(page, "sw")
    page.get_by_role("heading", name=words["sw"]["departures.title"]).wait_for()
    assert words_kept(page) == ["en", "sw"]
    page.context.set_offline(True)
    page.reload()
    page.wait_for_selector(SLOT)
    assert spoken(page) == "sw"
    choose(page, "en")
    page.get_by_role("heading", name=words["en"]["departures.title"]).wait_for()


def test_a_language_that_is_not_kept_is_plainly_said_to_need_a_signal(phone, words):
    page = open_departures(phone())
    wait_until_kept(page)
    page.context.set_offline(True)
    choose(page, "sw")
    alert = page.locator(".band [role=alert]")
    assert alert.inner_text() == words["en"]["language.silent"].replace("{name}", SWAHILI)
    assert (spoken(page), page.locator(".languages").input_value()) == ("en", "en")
    page.context.set_offline(False)
    choose(page, "sw")
    page.get_by_role("heading", name=words["sw"]["departures.title"]).wait_for()
    assert alert.count() == 0


def test_malagasy_has_its_own_days_and_money_in_a_browser_that_knows_none(phone):
    page = open_departures(phone(locale="mg-MG"))
    assert page.evaluate("Intl.DateTimeFormat.supportedLocalesOf('mg')") == []
    days = "Alatsinainy|Talata|Alarobia|Alakamisy|Zoma|Asabotsy|Alahady"
    months = "Janoary|Febroary|Martsa|Aprily|Mey|Jona|Jolay|Aogositra|Septambra|Oktobra|Novambra|Desambra"
    assert re.search(rf"\b({days}) \d+ ({months})\b", page.locator("main").inner_text())
    open_slot(page, page.locator(f"{SLOT} .slot-link").first)
    assert re.search(r"\bK\u00a0\d+\.\d\d ny kilao\b", page.locator("main").inner_text())
