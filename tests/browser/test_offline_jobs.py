"""A whole job without a signal, from airplane mode to the sync; what two phones wrote of one thing."""

import re
from urllib.parse import unquote

import pytest

from tests.browser.holders import people_of, take_on
from tests.browser.office import KEPT_LATE, surest_of
from tests.browser.parcels import enrolled, fill, go, minor, writing
from tests.browser.screens import SLOT, too_wide, wait_until, wait_until_kept
from tests.browser.shared_cartons import filled, lot_of, parcel_on, screen_of
from tests.browser.sight import left_over, spoken, weighs
from tests.browser.test_kept import given
from tests.browser.test_outbox import WAITS, frozen, masses, new_mass
from tests.browser.walking import follow, send, way_to

PAID = "175.00"
# Of the carton that is open, of the closed one, and of the one on its way.
KG = (26, 22, 18)
LAST_KG = 10


@pytest.fixture
def said(words):
    return words["en"] | words["office_en"]


class Beside:
    """What the server says and takes in a packer's name, beside all phones."""

    def __init__(self, page, soon):
        packer = people_of(page, "packer")[0]
        self.ask, self.write = enrolled(page, packer), writing(page, packer)
        self.departure, self.soon = surest_of(self.ask, soon), soon
        self.members = people_of(page, "member")

    def lot(self, kg, place=0):
        return lot_of(self.write, self.members[place], self.soon, kg)

    def parcel(self, state, *lots):
        return filled(self.write, self.departure, self.soon, lots, state)


@pytest.fixture
def beside(phone, soon):
    return Beside(phone(), soon)


@pytest.fixture
def away(phone):
    """A phone in airplane mode: of its holder only what came by itself after her code was typed."""

    def held(person):
        page = phone()
        page.goto("/who")
        # What tells other weights comes last, of the likeliest departure.
        with page.expect_response(lambda answer: "/reckoning/" in answer.url) as reckoning:
            take_on(page, person)
            given(page)
        reckoning.value.finished()
        wait_until_kept(page)
        wait_until(page, KEPT_LATE)
        page.context.set_offline(True)
        return page, re.search(r"/departures/([^/]+)/reckoning/", unquote(reckoning.value.url))[1]

    return held


def all_sent(page):
    """The signal is there again: what waited is answered."""
    page.context.set_offline(False)
    wait_until(page, f"!document.querySelector('{WAITS}')")


def kept_on_the_phone(page, said, count):
    """So many writes stand in the outbox, and none of them needs a person."""
    page.locator("main .state-line", has_text=said["outbox.kept"]).nth(count - 1).wait_for()
    assert page.locator("main .entry-line").count() == count
    told = said["outbox.wait"]["one" if count == 1 else "other"].format(count=count)
    assert page.locator(WAITS).inner_text().strip() == told


def decide(page, departure, said):
    """The departures, one journey, its packing sheet, and what another weight would cost there."""
    page.locator(f"{SLOT} [href^='/journey/{departure}']").first.click()
    page.wait_for_selector(".plot svg")
    price = minor(page.locator("#cost + .big").inner_text())
    section = page.locator("section[aria-labelledby=reckon]")
    section.locator("[name=mass_kg]").fill("37")
    reckoned = section.locator("[role=status]")
    reckoned.get_by_text(said["fact.holds"]).wait_for()
    assert minor(reckoned.locator("#reckon-cost + .big").inner_text()) != price > 0
    follow(page, page.get_by_role("link", name=said["packing.open"]))
    page.wait_for_selector(".section svg")
    page.locator(".steps li").nth(6).wait_for()


def test_a_member_does_her_whole_job_in_airplane_mode(away, beside, words, said):
    person, mass = beside.members[0], new_mass()
    page, departure = away(person)
    decide(page, departure, said)
    way_to(page, "/lots")
    follow(page, page.get_by_role("link", name=said["lots.offer"]))
    page.locator("[name=mass_kg]").wait_for()
    fill(page, {"mass_kg": str(mass), **frozen()})
    send(page)
    page.wait_for_url("**/outbox")
    assert left_over(page, words) == []
    kept_on_the_phone(page, said, 1)
    way_to(page, "/lots")
    hers = page.locator(".entry-line", has_text=f"{mass:g} kg")
    assert said["outbox.kept"] in hers.inner_text()
    way_to(page, "/statement")
    page.locator(".balance").wait_for()
    assert page.locator("main [role=alert]").count() == 0
    assert mass not in masses(beside.ask)
    all_sent(page)
    assert masses(beside.ask).count(mass) == 1
    way_to(page, "/lots")
    hers.locator("a[href^='/lots/']").wait_for()
    assert hers.count() == 1
    assert said["lot.state.offered"] in hers.inner_text()


def test_whoever_packs_does_her_whole_job_in_airplane_mode(away, beside, phone, words, said):
    packer, payer = people_of(phone(), "packer")[0], beside.members[1]
    states = ("open", "closed", "departed")
    paths = {state: beside.parcel(state, beside.lot(kg)) for state, kg in zip(states, KG, strict=True)}
    owed = beside.ask(f"/api/v1/statements/{payer['id']}/")["balance_minor"]
    page, _ = away(packer)

    def step(state, does, **typed):
        """By the list of cartons to the step of one; there it is told that it waits."""
        way_to(page, "/parcels")
        follow(page, page.locator(f"main a[href='{screen_of(paths[state])}']"))
        link = spoken(said, "carton.close", number=1) if does == "close" else said[f"step_of.{does}"]
        follow(page, page.get_by_role("link", name=link, exact=True))
        fill(page, typed)
        page.get_by_role("button", name=said[f"step_of.{does}.do"]).click()
        page.locator("main .notice", has_text=said["outbox.kept"]).wait_for()
        assert left_over(page, words) == []

    step("open", "close", gross_mass_kg="40.5", core_temperature_c="-23")
    way_to(page, "/parcels")
    follow(page, page.locator(f"main a[href='{screen_of(paths['closed'])}']"))
    follow(page, page.get_by_role("link", name=said["papers.title"]))
    assert weighs(page.locator(".printed tfoot"), KG[1])
    page.get_by_role("button", name=said["papers.labels"]).click()
    assert weighs(page.locator(".lot-label"), KG[1])
    step("closed", "depart", driver="Mr Sikasula")
    step("departed", "hand_over", is_hard="no", soft_kg="1.5", core_temperature_c="-1.5")
    pay(page, payer, said)
    kept_on_the_phone(page, said, 4)
    assert [beside.ask(paths[one])["state"] for one in states] == list(states)

    all_sent(page)
    shut, left, over = (beside.ask(paths[one]) for one in states)
    assert (shut["state"], shut["cartons"][0]["gross_mass_kg"]) == ("closed", 40.5)
    assert (left["state"], left["driver"]) == ("departed", "Mr Sikasula")
    assert (over["state"], over["handed_over"]["soft_kg"]) == ("handed_over", 1.5)
    share = sum(one["amount_minor"] for one in entries(beside, payer) if one["parcel"] == shut["id"])
    assert share == 0
    paid = [one for one in entries(beside, payer) if one["note"] == "at the landing"]
    assert [one["amount_minor"] for one in paid] == [-minor(PAID)]
    assert beside.ask(f"/api/v1/statements/{payer['id']}/")["balance_minor"] == owed - minor(PAID)


def entries(beside, person):
    return beside.ask(f"/api/v1/statements/{person['id']}/?page_size=100")["entries"]


def pay(page, payer, said):
    """On the form, without a signal."""
    way_to(page, "/parcels")
    follow(page, page.get_by_role("link", name=said["statements.title"]))
    follow(page, page.locator(f"main a[href='/statements/{payer['id']}']"))
    follow(page, page.get_by_role("link", name=said["payment.record"]))
    page.locator("[name=amount_minor]").wait_for()
    fill(page, {"amount_minor": PAID, "note": "at the landing"})
    send(page)
    page.wait_for_url("**/outbox")


def opened_and_away(page, *addresses):
    """Opens what is written on later, then the signal is gone."""
    for address in addresses:
        go(page, address)
        page.wait_for_load_state("networkidle")
    wait_until_kept(page)
    page.context.set_offline(True)


def stuck(page, said, words):
    """The one write of the outbox that a person has to decide, once it was answered."""
    page.context.set_offline(False)
    page.locator(WAITS, has_text=said["outbox.stuck"]["one"].format(count=1)).wait_for()
    go(page, "/outbox")
    assert (too_wide(page), left_over(page, words)) == (0, [])
    return page.locator("main .entry-line")


def join(page, parcel, lot, said):
    """Puts a lot in, where it is told that this waits."""
    go(page, f"{screen_of(parcel)}?lot={lot}")
    page.locator(".join-line").first.get_by_role("button").click()
    page.locator("main .notice", has_text=said["outbox.kept"]).wait_for()


def test_of_two_phones_that_want_the_last_place_one_gets_it_and_the_other_is_told_why(
    held_by, beside, words, said
):
    whole = parcel_on(beside.write, beside.departure, beside.soon)
    room = whole["cartons"][0]["capacity_kg"]
    path = f"/api/v1/parcels/{whole['id']}/"
    beside.write(f"{path}join/", {"lot": beside.lot(room - LAST_KG, place=2)})
    lots = [beside.lot(LAST_KG, place=place) for place in (0, 1)]
    phones = [held_by(person) for person in beside.members[:2]]
    for page, lot in zip(phones, lots, strict=True):
        opened_and_away(page, f"{screen_of(path)}?lot={lot}")
        join(page, path, lot, said)
    first, second = phones
    all_sent(first)
    line = stuck(second, said, words)
    assert said["send.refused"] in line.inner_text()
    assert "room for 0" in line.inner_text()
    inside = [part["lot"] for part in beside.ask(path)["cartons"][0]["parts"]]
    assert (lots[0] in inside, lots[1] in inside, len(inside)) == (True, False, 2)
    assert beside.ask(f"/api/v1/lots/{lots[1]}/")["state"] == "offered"
    line.get_by_role("button", name=said["outbox.discard"]).click()
    second.locator(WAITS).wait_for(state="detached")
    assert [part["lot"] for part in beside.ask(path)["cartons"][0]["parts"]] == inside


def test_of_two_who_close_one_carton_with_other_kilograms_one_is_answered_and_the_other_is_told(
    held_by, beside, words, said
):
    path = beside.parcel("open", beside.lot(33))
    pages = [held_by(role="packer"), held_by(role="manager")]
    for page, gross in zip(pages, ("47", "51"), strict=True):
        form = f"{screen_of(path)}/step?do=close&carton=1"
        opened_and_away(page, form)
        fill(page, {"gross_mass_kg": gross})
        send(page)
        page.locator("main .notice", has_text=said["outbox.kept"]).wait_for()
    first, second = pages
    all_sent(first)
    line = stuck(second, said, words)
    assert said["send.refused"] in line.inner_text()
    assert "51" in line.inner_text()
    assert "an open parcel" in line.inner_text()
    carton = beside.ask(path)["cartons"][0]
    assert carton["gross_mass_kg"] == 47
    line.get_by_role("button", name=said["outbox.discard"]).click()
    second.locator(WAITS).wait_for(state="detached")
    assert beside.ask(path)["cartons"][0] == carton


def test_of_two_phones_that_change_one_lot_the_second_may_leave_it_as_the_first_has_it(
    held_by, beside, words, said
):
    person, lot = beside.members[0], beside.lot(29)
    pages = [held_by(person), held_by(person)]
    for page, mass in zip(pages, ("30.5", "31.5"), strict=True):
        opened_and_away(page, f"/lots/new?change={lot}")
        fill(page, {"mass_kg": mass})
        send(page)
        page.wait_for_url("**/outbox")
    first, second = pages
    all_sent(first)
    line = stuck(second, said, words)
    assert [cell.inner_text() for cell in line.locator("tbody td").all()] == ["31.5", "30.5"]
    assert beside.ask(f"/api/v1/lots/{lot}/")["mass_kg"] == 30.5
    line.get_by_role("button", name=said["outbox.keep.theirs"]).click()
    second.locator(WAITS).wait_for(state="detached")
    go(second, f"/lots/{lot}")
    second.get_by_role("heading", name="30.5 kg").wait_for()
    assert beside.ask(f"/api/v1/lots/{lot}/")["mass_kg"] == 30.5
