"""Whoever packs and the manager do their whole job in each language; the widths of phones go round with them.

As in `test_jobs.py` each language is seen once, and after each step its screen is looked at in all widths.
"""

import re
from datetime import date, timedelta
from uuid import uuid4

import pytest

from tests.browser.at_work import Office
from tests.browser.conftest import LANGUAGES
from tests.browser.holders import OWN, choose_own, people_of
from tests.browser.landing import departure_soon
from tests.browser.office import about, departures_of
from tests.browser.parcels import enrolled, fill, go, minor
from tests.browser.screens import SLOT
from tests.browser.shared_cartons import lot_of
from tests.browser.sight import WIDTHS, Sight, spoken, text_of, weighs
from tests.browser.test_fares import each_kilogram
from tests.browser.test_parcels import YESTERDAY, take_back_what_waits
from tests.browser.test_quotes import LINK
from tests.browser.walking import follow, send, way_to

GOES_ROUND = [(language, WIDTHS[place % len(WIDTHS)]) for place, language in enumerate(LANGUAGES)]
KG = {"first": 25, "second": 40}
GROSS_KG, PAID, MUCH = 90, "150.00", "900"


@pytest.fixture
def at_work(phone, words):
    return lambda role, language, width: Office(phone(width=width, locale=language), words, language, role)


@pytest.fixture(scope="module")
def soon(address, data):
    """As elsewhere, but cheap: a plan takes it, or one that leaves soon, too, and can be closed now."""
    return departure_soon(data)


def offered(work, soon):
    """Two members' fish, offered beside the screens; nothing else waits there."""
    take_back_what_waits(work.page)
    people = people_of(work.page, "member")[:2]
    for person, kg in zip(people, KG.values(), strict=True):
        lot_of(work.write, person, soon, kg)
    return people


def plan(work, soon):
    """Asked for, looked at, accepted; answers with the address of the carton."""
    page = work.page
    way_to(page, "/parcels")
    work.sight.holds()
    follow(page, work.link("plan.ask.title"))
    fill(page, {"route": soon.route, "buyer": soon.buyer, "from": soon.date, "to": soon.date})
    work.sight.holds()
    send(page)
    page.wait_for_url("**/plans/*")
    page.locator(".carton-fill").wait_for()
    cost = work.asked(f"/api/v1{re.search('/plans/.*', page.url)[0]}/")["cost_minor"]
    assert minor(page.locator("p.big").first.inner_text()) == cost
    work.sight.holds()
    work.button("plan.accept").click()
    page.wait_for_url("**/parcels/*-*")
    page.locator(".carton-fill").wait_for()
    work.sight.holds()
    return re.search("/parcels/.*", page.url)[0]


def step(work, parcel, does, **typed):
    """A step of the carton on its form; the parcel as the server tells of it afterwards."""
    page = work.page
    follow(page, work.link(f"step_of.{does}") if does != "close" else work.link("carton.close", number=1))
    fill(page, typed)
    work.sight.holds()
    work.button(f"step_of.{does}.do").click()
    page.wait_for_url(f"**{parcel}")
    row = work.asked(f"/api/v1{parcel}/")
    page.get_by_text(work.said[f"parcel.state.{row['state']}"], exact=True).first.wait_for()
    work.sight.holds()
    return row


def print_the_papers(work, people):
    page = work.page
    follow(page, work.link("papers.title"))
    page.locator(".printed").wait_for()
    assert weighs(page.locator(".printed tfoot"), sum(KG.values()))
    assert weighs(page.locator(".printed tfoot"), GROSS_KG)
    work.sight.holds()
    for paper in ("packing_list", "labels"):
        work.button(f"papers.{paper}").click()
        page.get_by_role("heading", name=work.said[f"papers.{paper}"]).wait_for(state="attached")
        assert all(person["name"] in page.locator(".printed").inner_text() for person in people)
        work.sight.holds()
    follow(page, work.link("parcel.back"))


def read_the_shares(work, parcel, people):
    """Who pays what: on the screen, with the server, and together the whole bill."""
    page = work.page
    follow(page, work.link("split.open"))
    whole = minor(page.locator("p.big").first.inner_text())
    split = work.asked(f"/api/v1{parcel}/split/")
    own = next(one for one in split["rules"] if one["rule"] == split["rule"])
    shown = page.locator(".chosen").inner_text()
    assert all(person["name"] in shown for person in people)
    assert whole == split["bill_minor"]
    work.sight.holds()
    follow(page, work.link("parcel.back"))
    return whole, own


def take_a_payment(work, person):
    """A member pays part of what she owes: it stands on her statement, once."""
    page = work.page
    before = work.asked(f"/api/v1/statements/{person['id']}/?page_size=100")
    way_to(page, "/parcels")
    follow(page, work.link("statements.title"))
    assert person["name"] in page.locator("main").inner_text()
    work.sight.holds()
    follow(page, page.locator(f"main a[href='/statements/{person['id']}']"))
    work.sight.holds()
    follow(page, work.link("payment.record"))
    page.locator("[name=amount_minor]").wait_for()
    fill(page, {"member": str(person["id"]), "direction": "in", "amount_minor": PAID})
    work.sight.holds()
    work.button("payment.record").click()
    page.wait_for_url(f"**/statements/{person['id']}")
    page.locator(".entry").nth(len(before["entries"])).wait_for()
    after = work.asked(f"/api/v1/statements/{person['id']}/?page_size=100")
    assert before["balance_minor"] - after["balance_minor"] == minor(PAID)
    assert page.locator(".entry").count() == len(after["entries"]) == len(before["entries"]) + 1
    # A share stands under the day of its departure, which may be tomorrow's.
    paid = page.locator(".entry", has_text=work.said["entry.kind.payment"]).first.inner_text()
    assert minor(paid) == minor(PAID)
    work.sight.holds()


@pytest.mark.parametrize(("language", "width"), GOES_ROUND)
def test_whoever_packs_does_her_whole_job(at_work, soon, language, width):
    work = at_work("packer", language, width)
    people = offered(work, soon)
    parcel = plan(work, soon)
    closed = step(work, parcel, "close", gross_mass_kg=str(GROSS_KG), core_temperature_c="-24.5")
    assert closed["state"] == "closed"
    assert closed["cartons"][0]["gross_mass_kg"] == GROSS_KG
    print_the_papers(work, people)
    left = step(work, parcel, "depart", driver="Mr Sikasula", plate="ABZ 1234")
    assert (left["state"], left["driver"], left["plate"]) == ("departed", "Mr Sikasula", "ABZ 1234")
    over = step(work, parcel, "hand_over", core_temperature_c="-9.5", received_by="Mrs Phiri")
    assert (over["state"], over["handed_over"]["is_hard"]) == ("handed_over", True)
    assert over["handed_over"]["core_temperature_c"] == -9.5
    assert "Mrs Phiri" in work.page.locator("main").inner_text()
    whole, rule = read_the_shares(work, parcel, people)
    assert sum(one["amount_minor"] for one in rule["shares"]) == whole > 0
    assert step(work, parcel, "settle")["state"] == "settled"
    take_a_payment(work, people[0])


def take_on_somebody_new(work, phone, width):
    """A member is added, and a code made for her that takes her onto a phone of hers."""
    page, name = work.page, f"Ruth {uuid4().hex[:6]}"
    way_to(page, "/who")
    work.sight.holds()
    follow(page, work.link("members.title"))
    page.get_by_role("heading", name=work.said["members.add"]).click()
    form = page.locator("form", has=work.button("members.add.do"))
    form.locator("[name=name]").fill(name)
    work.sight.holds()
    work.button("members.add.do").click()
    line = page.locator("details.member", has_text=name)
    line.locator("summary").first.click()
    line.get_by_role("button", name=work.said["code.make"]).click()
    code = line.locator(".code-value").inner_text()
    work.sight.holds()
    hers = phone(width=width, locale=work.language)
    hers.goto("/enrol")
    hers.locator("[name=enrol_code]").fill(code)
    hers.get_by_role("button", name=work.said["enrol.next"]).click()
    choose_own(hers, OWN)
    hers.wait_for_selector(SLOT)
    go(hers, "/who")
    assert spoken(work.said, "who.now", name=name) in hers.locator(".holding").inner_text()
    Sight(hers, work.sight.words).holds()
    members = work.asked("/api/v1/members/?page_size=100")["results"]
    assert [one["role"] for one in members if one["name"] == name] == ["member"]


@pytest.fixture(scope="module")
def days(chromium, address, soon):
    """The departures of today and tomorrow by their days, asked for once: no fare changes which they are."""
    context = chromium.new_context(base_url=address)
    page = context.new_page()
    found = departures_of(enrolled(page, people_of(page, "manager")[0]), soon, days=2)
    context.close()
    return found


def change_a_fare(work, soon, days):
    """From tomorrow on: today stays, tomorrow moves, the history says who; then it is taken back."""
    page, said = work.page, work.said
    tomorrow = (date.fromisoformat(soon.date) + timedelta(days=1)).isoformat()
    before = {day: each_kilogram(page, days[day], soon, said) for day in (soon.date, tomorrow)}
    note = f"heard at the taxi park {uuid4().hex[:6]}"
    go(page, "/fares?subject=tariffs")
    work.sight.holds()
    follow(page, page.locator(".fare", has_text=soon.carrier).get_by_role("link", name=said["fares.change"]))
    page.locator("[name='rules.0.amount_minor']").fill(MUCH)
    fill(page, {"valid_from": tomorrow, "note": note})
    work.sight.holds()
    work.button("tried.do").click()
    page.locator("#tried").wait_for()
    work.sight.holds()
    send(page)
    coming = page.locator(".fare", has_text=soon.carrier).locator(".coming")
    coming.wait_for()
    work.sight.holds()
    after = {day: each_kilogram(page, days[day], soon, said) for day in (soon.date, tomorrow)}
    assert after[soon.date] == before[soon.date]
    assert after[tomorrow] > before[tomorrow]
    go(page, "/fares/history?subject=tariffs")
    line = page.locator(".entry-line", has_text=note).first.inner_text()
    assert work.person["name"] in line
    assert soon.carrier in line
    work.sight.holds()
    go(page, "/fares?subject=tariffs")
    coming.get_by_role("button", name=said["fares.withdraw"]).click()
    coming.wait_for(state="detached")
    rows = work.asked("/api/v1/tariffs/?page_size=100")["results"]
    assert [one["valid_from"] for one in rows if one["carrier"]["name"] == soon.carrier] == ["2025-01-01"]


def confirm_what_is_old(work):
    """Of materials there are several; each language confirms one of them."""
    page = work.page
    go(page, "/fares")
    work.sight.holds()
    old = [one for one in work.asked("/api/v1/old-prices/")["old_prices"] if one["subject"] == "charges"]
    line = page.locator("main a[href='/fares?subject=charges']")
    assert (str(len(old)) in text_of(line)) is bool(old)
    follow(page, line)
    rows = page.locator(".fare .old")
    assert rows.count() == len(old)
    work.sight.holds()
    first = page.locator(".fare", has=page.locator(".old")).first
    first.get_by_role("button", name=work.said["fares.confirm"]).click()
    rows.nth(len(old) - 1).wait_for(state="detached")
    left = [one for one in work.asked("/api/v1/old-prices/")["old_prices"] if one["subject"] == "charges"]
    assert len(left) == len(old) - 1
    work.sight.holds()


def quote_and_share(work, departure, soon, phone):
    """Looked at, made, and handed to whatever the phone sends with; the link opens at the buyer's."""
    page = work.page
    page.evaluate("() => { navigator.share = async ({ text }) => (window.shared = text); }")
    go(page, f"/quotes/new?departure={departure['id']}&{about(soon)}")
    page.locator("main form summary").click()
    fill(page, {"frozen_since": YESTERDAY, "profit_share": "25", "language": work.language})
    work.sight.holds()
    work.button("quote.look").click()
    page.locator("#prices").wait_for()
    work.sight.holds()
    work.button("quote.issue").click()
    page.locator(".link-text").wait_for()
    work.sight.holds()
    work.button("link.send").click()
    shared = page.evaluate("window.shared")
    buyer = phone(width=320)
    assert buyer.goto(LINK.search(shared)[0]).status == 200
    assert buyer.locator("html").get_attribute("lang") == work.language
    row = work.asked(f"/api/v1{re.search('/quotes/.*', page.url)[0]}/")
    assert (row["state"], row["language"], row["made_by"]["name"]) == (
        "issued",
        work.language,
        work.person["name"],
    )


@pytest.mark.parametrize(("language", "width"), GOES_ROUND)
def test_a_manager_does_her_whole_job(at_work, phone, soon, days, language, width):
    work = at_work("manager", language, width)
    take_on_somebody_new(work, phone, width)
    change_a_fare(work, soon, days)
    confirm_what_is_old(work)
    quote_and_share(work, days[soon.date], soon, phone)
