"""A member stands beside a freezer with hard fish and must decide."""

from datetime import datetime
from urllib.parse import urlencode

import pytest

from tests.browser.screens import (
    MOVED_BY,
    SLOT,
    ask,
    identity,
    moved_by,
    open_departures,
    open_slot,
    show_cheapest_safe_first,
    wait_until,
    wait_until_kept,
)


@pytest.fixture
def member(phone):
    """Her phone, with the departures for 60 kg of her fish on it."""
    page = open_departures(phone())
    ask(page, mass_kg="60")
    page.locator(".sheet").wait_for(state="detached")
    page.wait_for_selector(SLOT)
    return page


def departures(page):
    """All departures that the server knows for the question on the screen."""
    path = page.evaluate(
        """async () => {
            const store = await new Promise((found) => {
              const asked = indexedDB.open('carton-hour');
              asked.onsuccess = () => found(asked.result);
            });
            const asked = store.transaction('answers').objectStore('answers').getAllKeys();
            const keys = await new Promise((found) => (asked.onsuccess = () => found(asked.result)));
            store.close();
            return keys.find((key) => key.startsWith('/api/v1/departures/?') && key.includes('mass_kg=60&'));
        }"""
    )
    found = []
    while path:
        answer = page.request.get(path).json()
        found += answer["results"]
        path = answer["next"]
    return found


def coming(slots):
    """Those that have not left yet: the screens show no others."""
    return [slot for slot in slots if datetime.fromisoformat(slot["departs_at"]).timestamp() > now()]


def now():
    return datetime.now().astimezone().timestamp()


def clock(instant):
    return datetime.fromisoformat(instant).strftime("%H:%M")


def test_the_cheapest_safe_departure_for_her_weight_stands_first_and_is_marked(member, words):
    show_cheapest_safe_first(member, words["en"])
    safe = [slot for slot in coming(departures(member)) if slot["safe"]]
    first = member.locator(SLOT).first
    shown = next(slot for slot in safe if slot["id"] == identity(first.locator(".slot-link")))
    assert shown["cost_per_kg_minor"] == min(slot["cost_per_kg_minor"] for slot in safe)
    assert words["en"]["slot.cheapest"] in first.inner_text()
    assert member.locator(".tag").count() == 1


def test_no_departure_that_the_server_calls_unsafe_looks_safe(member):
    verdicts = {slot["id"]: slot["safe"] for slot in departures(member)}
    for slot in member.locator(SLOT).all():
        known = verdicts[identity(slot.locator(".slot-link"))]
        assert ("safe" in slot.get_attribute("class").split()) is known


def test_she_opens_it_goes_offline_reloads_and_sees_it_still(member, words):
    show_cheapest_safe_first(member, words["en"])
    link = member.locator(f"{SLOT} .slot-link").first
    wanted = next(slot for slot in departures(member) if slot["id"] == identity(link))
    open_slot(member, link)
    latest = clock(wanted["latest_safe_departure_at"])
    assert member.locator(".hour-box.latest .hour-value").inner_text() == latest
    assert member.locator(".hour-box.close .hour-value").inner_text() == clock(wanted["closes_at"])
    wait_until_kept(member)
    member.context.set_offline(True)
    member.reload()
    member.wait_for_selector(".plot svg")
    assert member.locator(".hour-box.latest .hour-value").inner_text() == latest
    member.goto("/")
    member.wait_for_selector(SLOT)
    assert "60 kg" in member.locator(".question").inner_text()


def test_a_wrong_weight_shows_its_fault_and_keeps_what_was_typed(member):
    ask(member, mass_kg="5000")
    fault = member.locator("#fault-mass_kg")
    fault.wait_for()
    assert fault.inner_text().strip() != ""
    assert member.locator("[name=mass_kg]").input_value() == "5000"
    assert member.evaluate("document.activeElement.name") == "mass_kg"


def test_words_in_place_of_a_weight_never_reach_the_server(member, words):
    ask(member, mass_kg="plenty")
    assert member.locator("#fault-mass_kg").inner_text() == words["en"]["fault.number"]


def test_the_question_is_remembered(member):
    member.reload()
    member.wait_for_selector(SLOT)
    assert "60 kg" in member.locator(".question").inner_text()


def test_going_back_finds_the_list_where_it_was_left(member):
    member.locator(f"{SLOT} .slot-link").last.scroll_into_view_if_needed()
    before = moved_by(member)
    assert before > 0
    open_slot(member, member.locator(f"{SLOT} .slot-link").last)
    assert moved_by(member) == 0
    member.go_back()
    member.wait_for_selector(SLOT)
    wait_until(member, f"(before) => Math.abs({MOVED_BY} - before) < 60", before)


def test_it_speaks_french_to_a_french_phone_and_remembers_another_choice(phone, words):
    page = open_departures(phone(locale="fr-FR"))
    assert page.locator("html").get_attribute("lang") == "fr"
    assert words["fr"]["departures.title"] in page.locator("h1").inner_text()
    page.locator(".languages").select_option("en")
    page.get_by_role("heading", name=words["en"]["departures.title"]).wait_for()
    page.reload()
    page.get_by_role("heading", name=words["en"]["departures.title"]).wait_for()


def test_a_question_without_an_answer_says_what_to_change(phone):
    page = phone()
    page.goto(f"/journey/999999-20200101-none?{urlencode({'mass_kg': '60', 'start_temperature_c': '-18'})}")
    page.locator("[role=alert]").wait_for()
