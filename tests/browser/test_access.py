"""Cheap phones, large text, keyboards, readers aloud."""

import pytest

from tests.browser.looks import holds_in_each_look, open_all
from tests.browser.screens import SLOT, ask, open_departures, open_slot, too_wide


def walk(page, words):
    """Every screen in turn, each in the state in which most of it shows."""
    open_departures(page)
    for fold in page.locator("summary").all()[:2]:
        fold.click()
    yield "departures"
    page.locator(".question").click()
    page.locator(".sheet").wait_for()
    yield "question"
    page.keyboard.press("Escape")
    open_slot(page, page.locator(f"{SLOT} .slot-link").first)
    open_all(page)
    yield "journey"
    page.get_by_role("link", name=words["packing.open"]).click()
    page.wait_for_selector(".section svg")
    yield "packing"
    page.goto("/kept")
    page.wait_for_selector("tbody tr")
    yield "kept"


def test_each_screen_can_be_read_in_light_in_dark_and_in_large_text(phone, words):
    page = phone()
    for screen in walk(page, words["en"]):
        holds_in_each_look(page, screen)


@pytest.mark.parametrize(
    ("width", "locale"),
    [(320, "en-GB"), (320, "fr-FR"), (320, "mg-MG"), (320, "sw-TZ"), (360, "fr-FR"), (412, "en-GB")],
)
def test_no_screen_is_wider_than_the_phone(phone, words, width, locale):
    page = phone(width=width, locale=locale)
    for screen in walk(page, words[locale[:2]]):
        assert (screen, too_wide(page)) == (screen, 0)


def test_whatever_can_be_touched_is_48_pixels_high(phone, words):
    page = phone(width=320)
    for screen in walk(page, words["en"]):
        small = page.evaluate(
            """() => [...document.querySelectorAll('a[href], button, summary, select, input')]
              .filter((one) => one.checkVisibility() && !one.matches('.skip'))
              .map((one) => [one.textContent || one.name, one.getBoundingClientRect().height])
              .filter(([, height]) => height < 47.5)"""
        )
        assert (screen, small) == (screen, [])


def test_the_keyboard_alone_leads_from_the_question_to_a_journey(phone):
    page = open_departures(phone())
    page.locator(".question").focus()
    page.keyboard.press("Enter")
    page.locator(".sheet").wait_for()
    page.keyboard.press("Escape")
    page.locator(".sheet").wait_for(state="detached")
    assert page.evaluate("document.activeElement.className") == "question"
    page.locator(f"{SLOT} .slot-link").first.focus()
    page.keyboard.press("Enter")
    page.wait_for_selector(".plot svg")
    assert page.evaluate("document.activeElement.tagName") == "H1"


def test_the_first_step_of_the_keyboard_skips_the_band(phone, words):
    page = open_departures(phone())
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.textContent") == words["en"]["frame.skip"]


def test_a_fault_is_read_aloud_with_its_field(phone):
    page = open_departures(phone())
    ask(page, mass_kg="5000")
    page.locator("#fault-mass_kg").wait_for()
    field = page.locator("[name=mass_kg]")
    assert field.get_attribute("aria-invalid") == "true"
    assert field.get_attribute("aria-describedby") == "fault-mass_kg"


def test_the_curve_can_be_had_as_a_table(phone, words):
    page = open_departures(phone())
    open_slot(page, page.locator(f"{SLOT} .slot-link").first)
    page.get_by_text(words["en"]["curve.table"], exact=True).click()
    page.locator("table.small").first.locator("tbody tr").nth(5).wait_for()
