"""What takes something back can be undone for a moment; then it is done once, whatever happens meanwhile."""

import time
from uuid import uuid4

import pytest
from axe_playwright_python.sync_playwright import Axe

from tests.browser.holders import lock, people_of, take_on, unlock
from tests.browser.killing import kill
from tests.browser.parcels import enrolled, go, offer, token_of
from tests.browser.screens import too_wide, wait_until, wait_until_kept

LINE = ".undo"
# Longer than anything can be undone.
OVER_MS = 9000
DAY_S = 86_400


def frozen():
    before = time.strftime("%Y-%m-%d", time.localtime(time.time() - 2 * DAY_S))
    return {"frozen_since": before, "start_temperature_c": "-18"}


@pytest.fixture
def said(words):
    return words["en"] | words["office_en"]


@pytest.fixture
def person(phone):
    return people_of(phone(), "member")[0]


@pytest.fixture
def state_of(phone, person):
    """How a lot stands at the server, asked beside her phone."""
    ask = enrolled(phone(), person)
    return lambda lot: ask(f"/api/v1/lots/{lot}/")["state"]


def withdraw(page, said, lot):
    go(page, f"/lots/{lot}")
    page.get_by_role("button", name=said["lot.withdraw"]).click()
    page.locator(LINE).wait_for()


@pytest.mark.parametrize("width", [320, 360])
def test_a_lot_that_was_taken_back_by_mistake_is_still_offered_after_one_touch(
    held_by, person, state_of, said, width
):
    page = held_by(person, width=width)
    lot = offer(page, mass_kg="21", **frozen())
    withdraw(page, said, lot)
    go(page, "/parcels")
    line = page.locator(LINE)
    assert said["write.lots.withdraw"] in line.inner_text()
    assert line.get_by_role("button").bounding_box()["height"] >= 48
    assert too_wide(page) == 0
    assert [one["id"] for one in Axe().run(page).response["violations"]] == []
    line.get_by_role("button", name=said["outbox.undo"]).click()
    line.wait_for(state="detached")
    page.wait_for_timeout(OVER_MS)
    assert state_of(lot) == "offered"
    go(page, f"/lots/{lot}")
    page.get_by_role("button", name=said["lot.withdraw"]).wait_for()


def test_it_is_undone_by_keyboard_alone(held_by, person, state_of, said):
    page = held_by(person)
    lot = offer(page, mass_kg="21.5", **frozen())
    go(page, f"/lots/{lot}")
    page.get_by_role("button", name=said["lot.withdraw"]).focus()
    page.keyboard.press("Enter")
    wait_until(page, "document.activeElement.matches('.undo button')")
    page.keyboard.press("Enter")
    page.locator(LINE).wait_for(state="detached")
    page.wait_for_timeout(OVER_MS)
    assert state_of(lot) == "offered"


def test_left_alone_it_goes_and_the_screen_says_so(held_by, person, state_of, said):
    page = held_by(person)
    lot = offer(page, mass_kg="22", **frozen())
    withdraw(page, said, lot)
    assert state_of(lot) == "offered"
    page.locator("p.big", has_text=said["lot.state.withdrawn"]).wait_for()
    assert (state_of(lot), page.locator(LINE).count()) == ("withdrawn", 0)


def test_a_phone_that_dies_meanwhile_sends_it_once_when_it_is_opened_again(reopened, person, state_of, said):
    page = reopened()
    page.goto("/who")
    take_on(page, person)
    lot = offer(page, mass_kg="23", **frozen())
    go(page, "/lots")
    wait_until_kept(page)
    withdraw(page, said, lot)
    kill(reopened.profile)
    assert state_of(lot) == "offered"
    page = reopened()
    sent = []
    page.on("request", lambda one: "/withdraw/" in one.url and sent.append(one.url))
    page.goto("/lots")
    unlock(page, person)
    go(page, f"/lots/{lot}")
    page.locator("p.big", has_text=said["lot.state.withdrawn"]).wait_for()
    assert (state_of(lot), len(sent)) == ("withdrawn", 1)


def test_without_a_signal_it_waits_as_any_other_write(held_by, person, state_of, said):
    page = held_by(person)
    lot = offer(page, mass_kg="24", **frozen())
    go(page, f"/lots/{lot}")
    wait_until_kept(page)
    page.context.set_offline(True)
    withdraw(page, said, lot)
    page.locator(".outbox-line").wait_for()
    page.locator("main .notice", has_text=said["outbox.kept"]).wait_for()
    assert (state_of(lot), page.locator(LINE).count()) == ("offered", 0)
    page.context.set_offline(False)
    page.locator("p.big", has_text=said["lot.state.withdrawn"]).wait_for()
    assert state_of(lot) == "withdrawn"


@pytest.fixture
def chief(held_by, phone):
    """A manager's phone, and another phone that she may turn out: whether that is known still."""
    page = held_by(role="manager")
    other, name = phone(), f"Lost on the beach, {uuid4().hex[:6]}"
    token = token_of(other, people_of(other, "member")[0], phone=name)
    headers = {"Authorization": f"Token {token}"}
    return page, name, lambda: other.request.get("/api/v1/me/", headers=headers).status == 200


def turn_out(page, said, name):
    go(page, "/phones")
    device = page.locator("details.member", has_text=name)
    device.locator("summary").click()
    device.get_by_role("button", name=said["phones.revoke.do"]).click()
    line = page.locator(LINE, has_text=name)
    line.wait_for()
    return line


def test_a_phone_that_was_turned_out_by_mistake_stays_in_after_one_touch(chief, said):
    page, name, is_known = chief
    line = turn_out(page, said, name)
    go(page, "/")
    line.get_by_role("button", name=said["outbox.undo"]).click()
    line.wait_for(state="detached")
    page.wait_for_timeout(OVER_MS)
    assert is_known()


def test_a_lost_phone_is_out_at_once_when_the_manager_locks_hers(chief, said):
    page, name, is_known = chief
    turn_out(page, said, name)
    assert is_known()
    with page.expect_response(lambda one: "/revoke/" in one.url, timeout=OVER_MS - 3000) as answer:
        lock(page)
    assert (answer.value.status, is_known()) == (200, False)
