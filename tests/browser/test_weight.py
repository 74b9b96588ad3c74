"""What a first visit costs a person on prepaid data."""

from tests.browser.screens import kept_in_full, open_departures, wait_until_kept

MOST_BYTES = 150_000
# The departures that a phone fetches in full by itself (frontend/src/prefetch.js).
FETCHED_AHEAD = 4


def test_a_first_visit_takes_at_most_150_kb_with_everything_that_opens_offline(phone, wire):
    page = open_departures(phone(at=f"http://127.0.0.1:{wire.port}/"))
    wait_until_kept(page)
    kept_in_full(page, FETCHED_AHEAD)
    page.wait_for_load_state("networkidle")
    assert 0 < wire.received <= MOST_BYTES


def test_opening_it_again_brings_no_page_anew(phone, wire):
    page = open_departures(phone(at=f"http://127.0.0.1:{wire.port}/"))
    wait_until_kept(page)
    kept_in_full(page, FETCHED_AHEAD)
    page.wait_for_load_state("networkidle")
    before = wire.received
    page.reload()
    page.wait_for_selector(".slot")
    page.wait_for_load_state("networkidle")
    assert wire.received - before < 10_000
