"""A member and a buyer do their whole job in each language; the widths of phones go round with them.

Each job is done once in each language, by touch at one width; after each step its screen is looked at in all
widths. Whoever packs and the manager do theirs in `test_office_jobs.py`.
"""

import re

import pytest

from tests.browser.conftest import LANGUAGES
from tests.browser.holders import people_of, take_on
from tests.browser.office import departures_of, quoted
from tests.browser.parcels import enrolled, fill, minor, writing
from tests.browser.screens import SLOT, ask, identity, open_slot, show_cheapest_safe_first
from tests.browser.sight import WIDTHS, Sight, spoken, weighs
from tests.browser.test_parcels import YESTERDAY
from tests.browser.walking import follow, way_to

GOES_ROUND = [(language, WIDTHS[place % len(WIDTHS)]) for place, language in enumerate(LANGUAGES)]
# A phone that begins in another language than the one that is chosen on it.
BEGINS_IN = {"en": "fr-CD", "fr": "en-ZM", "mg": "sw-TZ", "sw": "mg-MG"}
FIRST_STEPS = 4
KG = 60


def choose_language(page, language, said):
    page.locator(".languages").select_option(language)
    page.get_by_role("heading", name=said["departures.title"]).wait_for()
    assert page.locator("html").get_attribute("lang") == language


def learn(page, said, sight):
    """The guided first run, to its end."""
    for step in range(1, FIRST_STEPS + 1):
        assert said[f"first.{step}.title"] in page.locator("#first-run").inner_text()
        sight.holds()
        last = step == FIRST_STEPS
        page.locator(".first-run").get_by_role(
            "button", name=said["first.done" if last else "first.next"]
        ).click()
    page.locator(".first-run").wait_for(state="detached")


def decide(page, said, sight):
    """Her kilograms among the departures: the cheapest safe one, its hours and its price."""
    page.wait_for_selector(SLOT)
    sight.holds()
    page.locator(".question").click()
    page.locator(".sheet").wait_for()
    sight.holds()
    page.keyboard.press("Escape")
    with page.expect_response(re.compile(rf"/departures/\?.*mass_kg={KG}&")) as got:
        ask(page, mass_kg=str(KG))
    page.locator(".sheet").wait_for(state="detached")
    known = {one["id"]: one for one in got.value.json()["results"]}
    page.locator(f"{SLOT} [href*='mass_kg={KG}']").first.wait_for()
    assert weighs(page.locator(".question"), KG)
    show_cheapest_safe_first(page, said)
    sight.holds()
    link = page.locator(f"{SLOT} .slot-link").first
    best = known[identity(link)]
    assert best["cost_per_kg_minor"] == min(one["cost_per_kg_minor"] for one in known.values() if one["safe"])
    open_slot(page, link)
    assert (
        page.locator(".hour-box.latest .hour-value").inner_text() == best["latest_safe_departure_at"][11:16]
    )
    assert page.locator(".hour-box.close .hour-value").inner_text() == best["closes_at"][11:16]
    assert minor(page.locator("#cost + .big").inner_text()) == best["cost_per_kg_minor"]
    sight.holds()
    return best


def read_the_sheet(page, said, sight):
    """What she has to pack, and what to buy for it."""
    follow(page, page.get_by_role("link", name=said["packing.open"]))
    page.wait_for_selector(".section svg")
    page.locator(".steps li").nth(6).wait_for()
    assert weighs(page.locator(".fact", has_text=said["packing.mass"]).first, KG)
    sight.holds()


def offer_a_lot(page, said, sight, soon):
    """On the form; answers with its id."""
    way_to(page, "/lots")
    sight.holds()
    follow(page, page.get_by_role("link", name=said["lots.offer"]))
    page.locator("[name=mass_kg]").wait_for()
    fill(page, {"route": soon.route, "buyer": soon.buyer, "mass_kg": "12.5", "start_temperature_c": "-20"})
    fill(page, {"frozen_since": YESTERDAY})
    sight.holds()
    page.get_by_role("button", name=said["lots.offer"]).click()
    page.wait_for_url("**/lots/*-*")
    page.get_by_text(said["lot.state.offered"]).wait_for()
    sight.holds()
    return page.url.rsplit("/", 1)[1]


def compare_ways(page, said, sight):
    """Alone, shared, or later: each says what the server says of it."""
    with page.expect_response(lambda answer: "/api/v1/ways/" in answer.url) as got:
        page.get_by_role("link", name=said["ways.title"]).click()
    ways = {one["way"]: one for one in got.value.json()["ways"]}
    page.locator(".three-ways").wait_for()
    assert set(ways) == {"alone", "share", "wait"}
    for name, way in ways.items():
        column = page.locator(f".way[aria-labelledby=way-{name}]")
        assert said[f"way.{name}"] in column.locator("h2").inner_text()
        assert column.locator("dl").count() == way["available"]
        if way["available"] and way["cost_per_kg_minor"] is not None:
            assert minor(column.locator(".way-money").inner_text()) == way["cost_per_kg_minor"]
    sight.holds()


def read_her_account(page, said, sight, asked):
    """What she owes or is owed, in words and in coin."""
    way_to(page, "/statement")
    page.get_by_role("heading", name=said["statement.title"]).wait_for()
    page.locator(".balance").wait_for()
    owed = asked("/api/v1/statement/?page_size=100")["balance_minor"]
    way = "owes" if owed > 0 else "gets" if owed < 0 else "even"
    assert spoken(said, f"balance.you.{way}") in page.locator(".balance").inner_text()
    assert owed == 0 or minor(page.locator(".balance-money").inner_text()) == abs(owed)
    sight.holds()


@pytest.mark.parametrize(("language", "width"), GOES_ROUND)
def test_a_member_does_her_whole_job(phone, words, soon, language, width):
    said = words[language] | words[f"office_{language}"]
    page = phone(width=width, locale=BEGINS_IN[language])
    sight = Sight(page, words)
    page.goto("/")
    choose_language(page, language, said)
    learn(page, said, sight)
    people = people_of(page, "member")
    person = people[GOES_ROUND.index((language, width)) % len(people)]
    take_on(page, person)
    asked = enrolled(page, person)
    decide(page, said, sight)
    read_the_sheet(page, said, sight)
    lot = offer_a_lot(page, said, sight, soon)
    row = asked(f"/api/v1/lots/{lot}/")
    assert (row["mass_kg"], row["state"], row["member"]["name"]) == (12.5, "offered", person["name"])
    compare_ways(page, said, sight)
    way_to(page, "/lots")
    line = page.locator(f".entry-line:has(a[href='/lots/{lot}'])")
    line.get_by_text(said["lot.state.offered"]).wait_for()
    sight.holds()
    read_her_account(page, said, sight, asked)
    way_to(page, "/lots")
    follow(page, line.locator("a"))
    page.get_by_role("button", name=said["lot.withdraw"]).click()
    # It can be undone for a moment: the screen says so once the server has answered.
    page.locator("p.big", has_text=said["lot.state.withdrawn"]).wait_for()
    assert asked(f"/api/v1/lots/{lot}/")["state"] == "withdrawn"
    sight.holds()


@pytest.fixture(scope="module")
def selling(chromium, address, soon):
    """What the server says and takes in a packer's name, and the departure that she sells on."""
    context = chromium.new_context(base_url=address)
    page = context.new_page()
    packer = people_of(page, "packer")[0]
    asked = enrolled(page, packer)
    yield asked, writing(page, packer), departures_of(asked, soon)[soon.date]
    context.close()


@pytest.mark.parametrize(("language", "width"), GOES_ROUND)
def test_a_buyer_reads_asks_and_accepts_in_the_language_of_the_quote(
    phone, words, soon, selling, language, width
):
    asked, write, departure = selling
    sent = quoted(write, departure, soon, language=language)
    page = phone(width=width, locale=BEGINS_IN[language])
    sight = Sight(page, words)
    page.goto(sent["address"])
    assert page.locator("html").get_attribute("lang") == language
    prices = [minor(one.inner_text()) for one in page.locator("tbody td:last-child").all()]
    assert prices == [step["price_minor_per_kg"] for step in sent["quote"]["ladder"]]
    sight.holds()

    page.locator("form[action$='ask/']").locator("xpath=..").locator("summary").click()
    page.locator("#text").fill("Zinafika liti?")
    sight.holds()
    page.locator("form[action$='ask/'] button").click()
    page.locator("p", has_text="Zinafika liti?").wait_for()
    sight.holds()

    page.locator("#kg").fill("40")
    page.locator("form[method=get] button").click()
    total = minor(page.locator("form[action$='accept/'] .said").inner_text())
    sight.holds()
    page.locator("#name").fill("Mrs Phiri")
    page.locator("form[action$='accept/'] button").click()
    page.wait_for_url(sent["address"])
    told = page.locator(".said").first.inner_text()
    assert minor(told) == total
    assert "40" in told
    sight.holds()
    row = asked(f"/api/v1/quotes/{sent['quote']['id']}/")
    assert (row["state"], row["accepted_kg"], row["accepted_minor"]) == ("accepted", 40, total)
    assert row["answered_by_name"] == "Mrs Phiri"
    assert [one["text"] for one in row["questions"]] == ["Zinafika liti?"]
