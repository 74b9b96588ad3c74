"""Several people hold one phone; each sees her own, and a phone that is lost is turned out."""

import re

import pytest

from tests.browser.holders import (
    HOLDER,
    OTHERS,
    OWN,
    choose_own,
    code_for,
    lock,
    people_of,
    press,
    take_on,
    unlock,
)
from tests.browser.screens import SLOT, ask, open_departures, wait_until_kept

EVERYTHING_STORED = """async () => {
  const store = await new Promise((found) => {
    const asked = indexedDB.open('carton-hour');
    asked.onsuccess = () => found(asked.result);
  });
  const rows = (name) => new Promise((found) => {
    const asked = store.transaction(name).objectStore(name).getAll();
    asked.onsuccess = () => found(asked.result);
  });
  const all = await Promise.all([...store.objectStoreNames].map(rows));
  store.close();
  const text = (_, value) =>
    value instanceof ArrayBuffer || ArrayBuffer.isView(value)
      ? String.fromCharCode(...new Uint8Array(value.buffer ?? value))
      : value;
  return JSON.stringify(all, text);
}"""


@pytest.fixture
def member(phone):
    """A phone with one member on it, and who she is."""
    page = phone()
    page.goto("/who")
    person = people_of(page, "member")[0]
    take_on(page, person)
    return page, person


def heard_tokens(page):
    """The tokens that requests carry from now on."""
    tokens = []
    page.on("request", lambda request: tokens.append(request.headers.get("authorization")))
    return tokens


def test_a_visitor_of_the_demonstration_looks_as_somebody(phone, words):
    page = open_departures(phone())
    page.get_by_role("link", name=words["en"]["nav.look"]).click()
    person = people_of(page, "member")[1]
    page.locator(HOLDER, has_text=person["name"]).click()
    choose_own(page, OWN)
    page.wait_for_selector(SLOT)
    page.locator(".ways a[href='/who']").click()
    assert person["name"] in page.locator(".holding").inner_text()


def test_a_code_that_is_read_out_is_typed_in_any_case(phone, words):
    page = phone()
    page.goto("/enrol")
    code = code_for(page, people_of(page)[0])
    page.locator("[name=enrol_code]").fill(code.lower().replace("-", " "))
    page.get_by_role("button", name=words["en"]["enrol.next"]).click()
    choose_own(page, OWN)
    page.locator(".ways a[href='/lots']").wait_for()


def test_a_code_of_a_link_leaves_the_address(phone):
    page = phone()
    page.goto("/who")
    page.goto(f"/enrol#{code_for(page, people_of(page)[0])}")
    page.locator(".keypad").wait_for()
    assert page.url.endswith("/enrol")


def test_a_used_code_is_refused_and_says_what_to_do(phone, words):
    page = phone()
    page.goto("/who")
    code = code_for(page, people_of(page)[0])
    for at in (page, phone()):
        at.goto(f"/enrol#{code}")
        at.locator(".keypad").wait_for()
        press(at, OWN)
        at.locator(".digit-marks .typed").first.wait_for(state="detached")
        press(at, OWN)
        at.locator(".keypad").wait_for(state="detached")
    assert words["en"]["enrol.refused.do"] in at.locator("[role=alert]").inner_text()
    assert at.locator("[name=enrol_code]").input_value() == code


def test_the_own_code_is_chosen_twice_alike_and_no_row_of_digits(phone, words):
    page = phone()
    page.goto("/who")
    page.goto(f"/enrol#{code_for(page, people_of(page)[0])}")
    page.locator(".keypad").wait_for()
    press(page, "1234")
    page.get_by_text(words["en"]["own.easy"]).wait_for()
    press(page, "2580")
    page.get_by_text(words["en"]["own.again"]).wait_for()
    press(page, "2581")
    page.get_by_text(words["en"]["own.unlike"]).wait_for()
    choose_own(page, OWN)


def test_without_a_signal_it_can_be_unlocked_and_shows_what_was_seen(member):
    page, person = member
    page.wait_for_selector(SLOT)
    wait_until_kept(page)
    page.context.set_offline(True)
    page.reload()
    unlock(page, person)
    page.wait_for_selector(SLOT)
    lock(page)
    assert page.locator(SLOT).count() == 0
    page.goto("/")
    page.locator(".keypad").wait_for()
    assert page.locator(SLOT).count() == 0


def test_two_on_one_phone_do_not_see_each_others_answers(member, words):
    page, first = member
    page.wait_for_selector(SLOT)
    ask(page, mass_kg="61")
    page.locator(".sheet").wait_for(state="detached")
    second = people_of(page, "member")[1]
    take_on(page, second, OTHERS)
    page.wait_for_selector(SLOT)
    wait_until_kept(page)
    page.context.set_offline(True)
    assert "61 kg" not in page.locator(".question").inner_text()
    ask(page, mass_kg="61")
    page.locator("[role=alert]").wait_for()
    assert words["en"]["problem.silent.do"] in page.locator("[role=alert]").inner_text()
    page.reload()
    unlock(page, first, OTHERS)
    page.locator(".fault").wait_for()
    press(page, OWN)
    page.wait_for_selector(SLOT)
    assert "61 kg" in page.locator(".question").inner_text()


def test_what_lies_on_the_phone_can_be_read_by_nobody(member):
    page, person = member
    tokens = heard_tokens(page)
    page.goto("/")
    unlock(page, person)
    page.wait_for_selector(SLOT)
    page.wait_for_load_state("networkidle")
    page.reload()
    stored = page.evaluate(EVERYTHING_STORED)
    used = {token.removeprefix("Token ") for token in tokens if token}
    assert len(used) == 1
    assert person["name"] in stored
    for secret in (*used, OWN, '"results"', "departs_at"):
        assert secret not in stored


def test_wrong_codes_must_wait_longer_and_longer_and_lose_nothing(member, words):
    page, person = member
    page.wait_for_selector(SLOT)
    page.clock.install()
    page.reload()
    for _ in range(5):
        press(page, "9999")
        page.locator(".fault").wait_for()
        page.locator(".digit-marks .typed").first.wait_for(state="detached")
    page.get_by_text(words["en"]["unlock.wait"]).wait_for()
    assert re.fullmatch(r"0:(30|29)", page.locator(".wait-left").inner_text())
    page.reload()
    page.locator(".wait-left").wait_for()
    assert page.locator(".digit").count() == 0
    page.clock.fast_forward("00:31")
    press(page, "9999")
    page.locator(".wait-left").wait_for()
    assert re.fullmatch(r"(1:00|0:59)", page.locator(".wait-left").inner_text())
    page.clock.fast_forward("01:01")
    page.locator(".keypad").wait_for()
    unlock(page, person)
    page.wait_for_selector(SLOT)


def test_it_locks_itself_after_a_quarter_of_an_hour_without_a_touch(member):
    page, _ = member
    page.wait_for_selector(SLOT)
    page.clock.install()
    page.reload()
    press(page, OWN)
    page.wait_for_selector(SLOT)
    page.clock.fast_forward("14:00")
    page.locator("h1").click()
    page.clock.fast_forward("14:00")
    assert page.locator(SLOT).count() > 0
    page.clock.fast_forward("15:30")
    page.locator(".keypad").wait_for()
    assert page.locator(SLOT).count() == 0


def test_leaving_takes_everything_of_hers_from_the_phone(member, words):
    page, person = member
    page.wait_for_selector(SLOT)
    page.locator(".ways a[href='/who']").click()
    page.get_by_text(words["en"]["leave.title"]).click()
    page.get_by_role("button", name=words["en"]["leave.do"]).click()
    page.get_by_text(words["en"]["who.none"]).wait_for()
    assert person["name"] not in page.evaluate(EVERYTHING_STORED)


def test_over_an_open_line_it_says_that_nobody_can_be_taken_on(phone, words):
    page = phone()
    page.add_init_script("Object.defineProperty(window, 'isSecureContext', { value: false })")
    page.goto("/enrol")
    page.get_by_text(words["en"]["nolock.open"]).wait_for()
    assert page.locator("form").count() == 0


def test_a_keyboard_opens_the_phone(member):
    page, _ = member
    page.reload()
    page.locator(".keypad").wait_for()
    page.keyboard.type(OWN)
    page.keyboard.press("Enter")
    page.wait_for_selector(SLOT)
