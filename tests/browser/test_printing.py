"""The packing sheet on paper."""

import pytest

from tests.browser.screens import SLOT, open_departures, open_slot

POINTS_PER_MM = 72 / 25.4


def page_width_mm(pdf):
    """Width of the first page, from its MediaBox."""
    box = pdf.split(b"/MediaBox", 1)[1].split(b"]", 1)[0].strip().lstrip(b"[").split()
    return float(box[2]) / POINTS_PER_MM


@pytest.mark.parametrize(("words_key", "width_mm"), [("print.a4", 210), ("print.roll", 58)])
def test_the_packing_sheet_prints_on_its_paper(phone, words, words_key, width_mm):
    page = open_departures(phone())
    open_slot(page, page.locator(f"{SLOT} .slot-link").first)
    page.get_by_role("link", name=words["en"]["packing.open"]).click()
    page.wait_for_selector(".section svg")
    page.evaluate("() => { window.print = () => { window.printed = true; }; }")
    page.get_by_role("button", name=words["en"][words_key]).click()
    assert page.evaluate("window.printed")
    assert page_width_mm(page.pdf(prefer_css_page_size=True)) == pytest.approx(width_mm, abs=1)
    page.emulate_media(media="print")
    assert not page.locator(".band").is_visible()
    assert not page.get_by_role("button", name=words["en"][words_key]).is_visible()
    assert page.locator(".section svg").is_visible()
