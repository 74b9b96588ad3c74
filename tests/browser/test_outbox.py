"""What is written without a signal: it waits, and is there once, whatever happens to the phone meanwhile."""

import random
import time
from secrets import randbelow

import pytest
from axe_playwright_python.sync_playwright import Axe

from tests.browser.holders import OTHERS, lock, people_of, take_on, unlock
from tests.browser.killing import kill
from tests.browser.parcels import enrolled, fill, go, offer
from tests.browser.screens import too_wide, wait_until_kept

WAITS = ".outbox-line"
KILLS, A_ROUND = 20, 2
DAY_S = 86_400
SLOW_LINE = {"offline": False, "latency": 150, "downloadThroughput": 35_000, "uploadThroughput": 35_000}
MOST_BEFORE_A_KILL_S = 0.8


def frozen():
    before = time.strftime("%Y-%m-%d", time.localtime(time.time() - 2 * DAY_S))
    return {"frozen_since": before, "start_temperature_c": "-18"}


def offer_offline(page, mass):
    """Fills the form and sends it where there is no signal."""
    go(page, "/lots/new")
    fill(page, {"mass_kg": str(mass), **frozen()})
    page.locator("form .button.first").click()
    page.wait_for_url("**/outbox")


def faults(page):
    """What axe finds on the screen."""
    return [one["id"] for one in Axe().run(page).response["violations"]]


def new_mass():
    """Kilograms that no other run has offered at the same server, as a screen shows them."""
    return round(randbelow(8000) / 10 + 100.1, 1)


def masses(ask):
    return [lot["mass_kg"] for lot in ask("/api/v1/lots/?page_size=100")["results"]]


def see_the_forms(page):
    """Opens once with a signal what is opened without one afterwards."""
    go(page, "/lots/new")
    page.locator("[name=mass_kg]").wait_for()
    go(page, "/lots")
    wait_until_kept(page)


@pytest.fixture
def person(phone):
    return people_of(phone(), "member")[0]


@pytest.fixture
def ask(phone, person):
    """Asks the server in her name, beside her phone."""
    return enrolled(phone(), person)


def test_a_lot_that_is_offered_offline_waits_through_a_closed_page_and_is_there_once(
    held_by, person, ask, words
):
    page, kept, mass = held_by(person), words["en"]["outbox.kept"], new_mass()
    shown = f"{mass:g} kg"
    see_the_forms(page)
    page.context.set_offline(True)
    offer_offline(page, mass)
    page.locator(".entry-line", has_text=kept).wait_for()
    assert (too_wide(page), faults(page)) == (0, [])
    again = page.context.new_page()
    page.close()
    again.goto("/lots")
    unlock(again, person)
    again.locator(WAITS).wait_for()
    assert again.locator(".entry-line", has_text=shown).inner_text().count(kept) == 1
    assert mass not in masses(ask)
    again.context.set_offline(False)
    again.locator(WAITS).wait_for(state="detached")
    assert masses(ask).count(mass) == 1
    again.locator(".entry-line a[href^='/lots/']", has_text=shown).wait_for()
    assert kept not in again.locator("main").inner_text()


def change(page, lot, mass):
    go(page, f"/lots/new?change={lot}")
    fill(page, {"mass_kg": str(mass)})
    page.locator("form .button.first").click()


def test_the_second_of_two_phones_that_change_one_lot_sees_both_versions_and_decides(
    held_by, person, ask, words
):
    page = held_by(person)
    lot = offer(page, mass_kg="22", **frozen())
    go(page, f"/lots/new?change={lot}")
    see_the_forms(page)
    page.context.set_offline(True)
    change(page, lot, 23.5)
    page.wait_for_url("**/outbox")
    other = held_by(person)
    change(other, lot, 25.5)
    other.wait_for_url(f"**/lots/{lot}")
    page.context.set_offline(False)
    page.locator("main table").wait_for()
    assert [cell.inner_text() for cell in page.locator("tbody td").all()] == ["23.5", "25.5"]
    assert words["en"]["outbox.stuck"]["one"].format(count=1) in page.locator(WAITS).inner_text()
    assert (too_wide(page), faults(page)) == (0, [])
    assert ask(f"/api/v1/lots/{lot}/")["mass_kg"] == 25.5
    page.get_by_role("button", name=words["en"]["outbox.keep.mine"]).click()
    page.locator(WAITS).wait_for(state="detached")
    assert ask(f"/api/v1/lots/{lot}/")["mass_kg"] == 23.5


def test_on_a_shared_phone_nothing_of_hers_is_sent_by_another_and_leaving_with_it_is_an_act_of_its_own(
    held_by, person, ask, words
):
    page, said, mass = held_by(person), words["en"], new_mass()
    see_the_forms(page)
    page.context.set_offline(True)
    offer_offline(page, mass)
    page.get_by_role("button", name=said["outbox.now"]).click()
    lock(page)
    page.context.set_offline(False)
    take_on(page, people_of(page, "packer")[0], OTHERS)
    go(page, "/who")
    hers = page.locator(".holder", has_text=person["name"]).inner_text()
    assert said["outbox.hers"]["one"].format(count=1) in hers
    assert page.locator(WAITS).count() == 0
    assert mass not in masses(ask)
    page.context.set_offline(True)
    lock(page)
    unlock(page, person)
    page.locator(".ways a[href='/lots']").wait_for()
    go(page, "/who")
    page.locator("summary", has_text=said["leave.title"]).click()
    page.get_by_role("button", name=said["leave.drop"]["one"]).wait_for()
    assert page.get_by_role("button", name=said["leave.do"]).count() == 0
    page.context.set_offline(False)
    page.locator(WAITS).wait_for(state="detached")
    page.get_by_role("button", name=said["leave.do"]).wait_for()
    assert masses(ask).count(mass) == 1


def test_a_phone_that_dies_20_times_while_it_sends_loses_nothing_and_does_nothing_twice(
    reopened, person, ask
):
    drawn = random.Random(20)
    page = reopened()
    page.goto("/who")
    take_on(page, person)
    see_the_forms(page)
    wanted, left_over, first = [], 0, new_mass()
    for number in range(KILLS):
        page.context.set_offline(True)
        for step in range(A_ROUND):
            wanted.append(round(first + (number * A_ROUND + step + 1) / 1000, 3))
            offer_offline(page, wanted[-1])
        page.context.set_offline(False)
        page.context.new_cdp_session(page).send("Network.emulateNetworkConditions", SLOW_LINE)
        time.sleep(drawn.uniform(0, MOST_BEFORE_A_KILL_S))
        kill(reopened.profile)
        page = reopened()
        page.context.set_offline(True)
        page.goto("/lots")
        unlock(page, person)
        page.locator("h1", has_text="lots").wait_for()
        page.wait_for_timeout(300)
        left_over += page.locator(WAITS).count()
    before_the_last = len(set(masses(ask)) & set(wanted))
    page.context.set_offline(False)
    page.locator(WAITS).wait_for(state="detached")
    there = [mass for mass in masses(ask) if mass in wanted]
    assert sorted(there) == sorted(wanted)
    # It died in the middle: some had arrived, and something was left.
    assert before_the_last > 0
    assert left_over >= KILLS // 4
    print(
        f"{KILLS} kills, {left_over} with something left; {before_the_last} of {len(there)} arrived between"
    )
