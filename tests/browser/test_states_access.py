"""What screens say when something is amiss can be read as well: in light, in dark and in large text."""

import pytest

from tests.browser.holders import code_for, lock, people_of, press, take_on
from tests.browser.looks import holds_in_each_look, open_all
from tests.browser.parcels import enrolled, fill, go, offer, writing
from tests.browser.screens import SLOT, ask, open_departures, wait_until_kept
from tests.browser.test_outbox import WAITS, frozen, offer_offline

STEPS = 4
# More than a lot may weigh, as only the server knows.
TOO_MUCH = "9000"


@pytest.fixture
def said(words):
    return words["en"]


def test_the_first_run_step_by_step_and_what_a_visitor_meets_without_a_signal(phone, said):
    page = open_departures(phone())
    for step in range(1, STEPS + 1):
        holds_in_each_look(page, f"first run {step}")
        page.locator(".first-run .button.first").click()
    page.locator(".first-run").wait_for(state="detached")
    ask(page, mass_kg="plenty")
    page.locator("#fault-mass_kg").wait_for()
    holds_in_each_look(page, "question with a fault")
    page.keyboard.press("Escape")
    wait_until_kept(page)
    page.context.set_offline(True)
    page.locator(".languages").select_option("sw")
    page.locator(".band [role=alert]").wait_for()
    holds_in_each_look(page, "a language out of reach")
    page.clock.install()
    page.clock.fast_forward("03:05:00")
    page.reload()
    page.get_by_text(said["old.silent"]).wait_for()
    holds_in_each_look(page, "old departures")
    ask(page, mass_kg="33")
    page.locator("main [role=alert]").wait_for()
    holds_in_each_look(page, "never asked")
    page.goto("/journey/999999-20200101-none?mass_kg=60&start_temperature_c=-18")
    page.locator("main [role=alert]").wait_for()
    holds_in_each_look(page, "unknown journey")


def test_what_is_refused_is_broken_or_is_not_there(phone, said):
    page = phone()
    page.goto("/nowhere")
    page.get_by_role("heading", name=said["lost.title"]).wait_for()
    holds_in_each_look(page, "no such screen")
    broken = {"status": 500, "body": "{}", "content_type": "application/json"}
    page.route("**/api/v1/departures/?**", lambda route: route.fulfill(**broken))
    page.goto("/")
    page.locator("main [role=alert]").wait_for()
    holds_in_each_look(page, "a server that is broken")
    page.unroute("**/api/v1/departures/?**")
    page.goto("/lots")
    page.locator("h1").wait_for()
    holds_in_each_look(page, "only for those who belong to it")
    page.goto(f"/enrol#{code_for(page, people_of(page)[0])}")
    page.locator(".keypad").wait_for()
    press(page, "1111")
    page.locator(".fault").wait_for()
    holds_in_each_look(page, "an own code that is too easy")


def test_the_outbox_in_each_of_its_states(phone, said):
    page = phone()
    page.goto("/who")
    person = people_of(page, "member")[0]
    take_on(page, person)
    write = writing(phone(), person)
    lot = offer(page, mass_kg="21", **frozen())
    for address in (f"/lots/new?change={lot}", "/lots/new", "/outbox"):
        go(page, address)
        page.wait_for_load_state("networkidle")
    holds_in_each_look(page, "an empty outbox")
    wait_until_kept(page)
    page.context.set_offline(True)
    go(page, f"/lots/new?change={lot}")
    fill(page, {"mass_kg": "22"})
    page.locator("form .button.first").click()
    page.wait_for_url("**/outbox")
    offer_offline(page, TOO_MUCH)
    page.locator("main .state-line", has_text=said["outbox.kept"]).nth(1).wait_for()
    holds_in_each_look(page, "two that wait")
    go(page, "/lots")
    holds_in_each_look(page, "lots with one that waits")
    write(f"/api/v1/lots/{lot}/", {"mass_kg": 23}, method="PATCH")
    page.context.set_offline(False)
    page.locator(WAITS, has_text=said["outbox.stuck"]["other"].format(count=2)).wait_for()
    go(page, "/outbox")
    page.locator("main table").wait_for()
    page.get_by_role("button", name=said["outbox.mend"]).wait_for()
    holds_in_each_look(page, "one refused, one in conflict")
    page.get_by_role("button", name=said["outbox.keep.theirs"]).click()
    page.locator("main table").wait_for(state="detached")
    page.get_by_role("button", name=said["outbox.undo"]).wait_for()
    holds_in_each_look(page, "one that was discarded")
    page.get_by_role("button", name=said["outbox.mend"]).click()
    page.locator("#fault-mass_kg").wait_for()
    open_all(page)
    holds_in_each_look(page, "a refused one on its form")
    fill(page, {"mass_kg": "24"})
    page.locator("form .button.first").click()
    page.wait_for_url("**/lots/*-*")
    asked = enrolled(page, person)
    assert asked(f"/api/v1/lots/{page.url.rsplit('/', 1)[1]}/")["mass_kg"] == 24
    assert asked(f"/api/v1/lots/{lot}/")["mass_kg"] == 23
    lock(page)
    page.locator(".keypad").wait_for()
    holds_in_each_look(page, "locked")


def test_what_a_member_meets_that_never_was_here_and_there_is_no_signal(held_by, said):
    page = held_by(role="member")
    page.wait_for_selector(SLOT)
    wait_until_kept(page)
    page.context.set_offline(True)
    go(page, "/ways?species=IRQ&mass_kg=20")
    page.locator("main [role=alert]").wait_for()
    holds_in_each_look(page, "an answer that never was here")
    go(page, "/kept")
    holds_in_each_look(page, "what is kept, without a signal")
