"""All by keyboard, and no finger: what has the focus is always seen, and nothing holds it."""

import re

from tests.browser.holders import OTHERS, OWN, people_of, take_on
from tests.browser.office import surest_of
from tests.browser.parcels import CAME, enrolled, go, writing
from tests.browser.screens import SLOT, wait_until
from tests.browser.shared_cartons import filled, lot_of, screen_of
from tests.browser.test_outbox import frozen, masses, new_mass

MOST_STEPS = 200
LEAST_LINE_PX = 2
# How it is seen: by its own outline, or by that of the marks that stand for a field which nobody sees.
FOCUS = """() => {
  const one = document.activeElement;
  const seen = one.matches('.digit-field') ? one.nextElementSibling : one;
  const { outlineStyle, outlineWidth } = getComputedStyle(seen);
  const box = seen.getBoundingClientRect();
  return {
    name: [one.tagName, one.name, one.getAttribute('href'), one.textContent.trim()].join(' '),
    nowhere: one === document.body,
    line: outlineStyle === 'none' ? 0 : parseFloat(outlineWidth),
    on: box.width > 0 && box.height > 0 && box.bottom > 0 && box.top < innerHeight,
  };
}"""
REMEMBER = "() => document.activeElement.setAttribute('data-had', '')"
NEVER_HAD_IT = """() => [...document.querySelectorAll('a[href], button, summary, select, input, textarea')]
  .filter((one) => !one.disabled && one.tabIndex >= 0 && one.checkVisibility() && !('had' in one.dataset))
  .map((one) => one.outerHTML)"""
HAS_IT = "(selector) => document.activeElement.matches(selector)"


def step(page, key="Tab"):
    """One key; what has the focus then is on the screen, and is seen."""
    page.keyboard.press(key)
    focus = page.evaluate(FOCUS)
    assert focus["nowhere"] or (focus["line"] >= LEAST_LINE_PX and focus["on"]), focus
    return focus


def reach(page, selector):
    """Goes on until that has the focus."""
    page.locator(selector).first.wait_for()
    for _ in range(MOST_STEPS):
        if page.evaluate(HAS_IT, selector):
            return
        step(page)
    raise AssertionError(f"no key leads to {selector}")


def press_on(page, selector):
    reach(page, selector)
    page.keyboard.press("Enter")


def type_into(page, selector, text):
    reach(page, selector)
    page.keyboard.press("Control+A")
    page.keyboard.type(text)


def follow_by_key(page, selector):
    before = page.url
    press_on(page, selector)
    wait_until(page, "(before) => location.href !== before", before)
    wait_until(page, CAME)
    wait_until(page, HAS_IT, "h1")


def go_round(page):
    """From its beginning through the whole screen and out of it: whatever can have the focus had it."""
    page.evaluate("document.querySelector('.skip').focus()")
    page.evaluate(REMEMBER)
    for _ in range(MOST_STEPS):
        if step(page)["nowhere"]:
            break
        page.evaluate(REMEMBER)
    else:
        raise AssertionError("the focus never leaves the screen")
    assert page.evaluate(NEVER_HAD_IT) == []


def type_day(page, selector, day):
    """Parts of a day go one after the other, in the order of the browser: day or month first."""
    reach(page, selector)
    year, month, date = day.split("-")
    for parts in ((date, month, year), (month, date, year)):
        page.keyboard.type("".join(parts))
        if page.locator(selector).input_value() == day:
            return
        # The year is the last part, and still has the focus.
        for _ in range(len(parts) - 1):
            page.keyboard.press("ArrowLeft")
    raise AssertionError(f"{day} cannot be typed")


def test_a_member_does_her_job_by_keyboard_from_the_lock_to_the_lot(phone, words):
    page, said = phone(), words["en"]
    page.goto("/who")
    person = people_of(page, "member")[0]
    take_on(page, person)
    page.reload()
    page.locator(".keypad").wait_for()
    step(page, "Shift+Tab")
    reach(page, ".digit-field")
    page.keyboard.type(OWN)
    page.keyboard.press("Enter")
    page.wait_for_selector(SLOT)
    press_on(page, ".first-run .button.first")
    press_on(page, ".question")
    page.locator(".sheet").wait_for()
    type_into(page, ".sheet [name=mass_kg]", "60")
    page.keyboard.press("Enter")
    page.locator(".sheet").wait_for(state="detached")
    page.locator(f"{SLOT} [href*='mass_kg=60']").first.wait_for()
    assert page.evaluate(HAS_IT, ".question")
    follow_by_key(page, ".slot-link")
    page.wait_for_selector(".plot svg")
    follow_by_key(page, "a[href^='/packing/']")
    follow_by_key(page, ".ways a[href='/lots']")
    follow_by_key(page, "main a[href='/lots/new']")
    mass = new_mass()
    type_into(page, "[name=mass_kg]", str(mass))
    type_into(page, "[name=start_temperature_c]", frozen()["start_temperature_c"])
    type_day(page, "[name=frozen_since]", frozen()["frozen_since"])
    press_on(page, "main form .button.first")
    page.wait_for_url("**/lots/*-*")
    page.get_by_text(said["lot.state.offered"]).wait_for()
    assert masses(enrolled(page, person)).count(mass) == 1


def test_whoever_packs_closes_a_carton_by_keyboard(phone, words, soon):
    page = phone()
    page.goto("/who")
    packer = people_of(page, "packer")[0]
    ask, write = enrolled(page, packer), writing(page, packer)
    departure = surest_of(ask, soon)
    path = filled(write, departure, soon, [lot_of(write, people_of(page, "member")[0], soon, 34)])
    take_on(page, packer, OTHERS)
    follow_by_key(page, ".ways a[href='/parcels']")
    follow_by_key(page, f"main a[href='{screen_of(path)}']")
    follow_by_key(page, "main a[href*='do=close']")
    type_into(page, "[name=gross_mass_kg]", "48.5")
    type_into(page, "[name=core_temperature_c]", "-24")
    page.keyboard.press("Enter")
    page.wait_for_url(re.compile(f"{screen_of(path)}$"))
    page.get_by_text(words["en"]["parcel.state.closed"], exact=True).first.wait_for()
    shut = ask(path)
    assert (shut["state"], shut["cartons"][0]["gross_mass_kg"]) == ("closed", 48.5)


def test_the_focus_goes_round_each_screen_and_is_held_by_none(held_by):
    page = held_by(role="manager")
    page.wait_for_selector(SLOT)
    own = ("/", "/lots", "/lots/new", "/parcels", "/statement", "/outbox", "/who")
    for address in (*own, "/quotes", "/fares"):
        go(page, address)
        page.wait_for_load_state("networkidle")
        go_round(page)


def test_the_sheet_keeps_the_focus_until_it_is_left_and_gives_it_back(phone):
    page = phone()
    page.goto("/")
    page.wait_for_selector(SLOT)
    press_on(page, ".question")
    page.locator(".sheet").wait_for()
    for _ in range(15):
        focus = step(page)
        assert focus["nowhere"] or page.evaluate("Boolean(document.activeElement.closest('.sheet'))"), focus
    page.keyboard.press("Escape")
    page.locator(".sheet").wait_for(state="detached")
    assert page.evaluate(HAS_IT, ".question")
