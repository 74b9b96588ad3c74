"""Small lots, one full carton, a bill for each."""

import re

import pytest

from tests.browser.holders import people_of
from tests.browser.landing import CHEAPEST_MINOR, departure_soon
from tests.browser.parcels import enrolled, fill, go, minor, offer, writing
from tests.browser.shared_cartons import YESTERDAY
from tests.browser.test_printing import page_width_mm


@pytest.fixture(scope="module")
def soon(address, data):
    """As elsewhere, but so cheap that a plan takes this one."""
    return departure_soon(data, CHEAPEST_MINOR)


def fish(soon, mass_kg):
    return {
        "route": soon.route,
        "buyer": soon.buyer,
        "species": "IRQ",
        "mass_kg": mass_kg,
        "start_temperature_c": "-25",
        "frozen_since": YESTERDAY,
    }


def take_back_what_waits(page):
    """Whoever it belongs to, so that the plan holds what this test offers and nothing else."""
    packer = people_of(page, "packer")[0]
    waiting = enrolled(page, packer)("/api/v1/lots/?state=offered&page_size=100")["results"]
    write = writing(page, packer)
    for lot in waiting:
        write(f"/api/v1/lots/{lot['id']}/withdraw/", {})


def plan_one_day(page, soon):
    """The packer asks for a plan of one day and accepts it; answers with the address of the carton."""
    go(page, "/plan")
    fill(page, {"route": soon.route, "buyer": soon.buyer, "from": soon.date, "to": soon.date})
    page.locator("form .button.first").click()
    page.wait_for_url("**/plans/*")
    page.locator(".carton-fill").wait_for()
    assert page.locator(".carton-fill").count() == 1
    page.get_by_role("button", name="Accept this plan").click()
    page.wait_for_url("**/parcels/*-*")
    page.locator(".carton-fill").wait_for()
    return re.sub(r"^https?://[^/]+", "", page.url)


def test_three_members_share_a_carton_and_a_fourth_is_shown_the_next_departure(held_by, soon):
    packer = held_by(role="packer")
    take_back_what_waits(packer)
    chanda, esther, joseph, mary = people_of(packer, "member")[:4]
    phones = {}
    for person, mass in ((chanda, 20), (esther, 35), (joseph, 45)):
        phones[person["id"]] = held_by(person)
        offer(phones[person["id"]], **fish(soon, str(mass)))

    parcel = plan_one_day(packer, soon)
    drawing = packer.locator(".carton-fill").get_attribute("aria-label")
    for person, mass in ((chanda, 20), (esther, 35), (joseph, 45)):
        assert re.search(rf"{person['name']} {mass}\s*kg", drawing)

    fourth = held_by(mary)
    lot = offer(fourth, **fish(soon, "28"))
    go(fourth, f"{parcel}?lot={lot}")
    fourth.get_by_role("button", name=re.compile(r"Put 28\s*kg in")).first.click()
    refusal = fourth.locator("[role=alert]").inner_text()
    assert "room for" in refusal
    assert re.search(r"next departure .* \d{4}-\d\d-\d\d \d\d:\d\d", refusal)

    packer.get_by_role("link", name="Close carton 1").click()
    fill(packer, {"gross_mass_kg": "140"})
    packer.locator("form .button.first").click()
    packer.locator(".part-rope").wait_for()

    packer.get_by_role("link", name="Papers to print").click()
    packer.locator(".printed").wait_for()
    waybill = packer.locator(".printed").inner_text()
    assert soon.carrier in waybill
    assert re.search(r"100\s*kg", waybill)
    packer.evaluate("() => { window.print = () => { window.printed = true; }; }")
    packer.get_by_role("button", name="Print on A4").click()
    assert packer.evaluate("window.printed")
    assert page_width_mm(packer.pdf(prefer_css_page_size=True)) == pytest.approx(210, abs=1)

    shares = [bill_of(page, parcel) for page in phones.values()]
    go(packer, f"{parcel}/split")
    whole = minor(packer.locator("p.big").first.inner_text())
    assert all(share > 0 for share in shares)
    assert sum(shares) == whole
    asked = enrolled(packer, people_of(packer, "packer")[0])
    split = asked(f"/api/v1{parcel}/split/")
    assert whole == split["bill_minor"] == sum(line["amount_minor"] for line in split["lines"])


def bill_of(page, parcel):
    """What a member reads on her own phone: her share, and the same on her account."""
    go(page, parcel)
    share = minor(page.locator(".mine-box dd").first.inner_text())
    go(page, "/statement")
    newest = page.locator(".entry .moved").first.inner_text()
    assert minor(newest) == share
    assert "you owe" in newest
    return share


def test_a_carton_that_did_not_leave_is_called_off_and_its_fish_offered_again(held_by, soon, words):
    said = words["en"]
    packer = held_by(role="packer")
    take_back_what_waits(packer)
    owner = held_by(people_of(packer, "member")[1])
    lot = offer(owner, **fish(soon, "95"))
    parcel = plan_one_day(packer, soon)
    packer.get_by_role("link", name="Close carton 1").click()
    packer.locator("form .button.first").click()
    packer.locator(".part-rope").wait_for()
    share = bill_of(owner, parcel)

    packer.get_by_role("link", name=said["step_of.call_off"]).click()
    fill(packer, {"note": "The minibus did not come."})
    packer.locator("form .button.first").click()
    packer.get_by_text(said["off.words"]).wait_for()

    # What the phone kept is shown first.
    go(owner, parcel)
    owner.get_by_text(said["off.words"]).wait_for()
    assert minor(owner.locator(".mine-box dd").first.inner_text()) == 0
    go(owner, "/statement")
    # A share stands under the day of its departure, perhaps tomorrow's; both kinds begin with their newest.
    entries = [owner.locator(".entry", has_text=said[f"entry.kind.{one}"]) for one in ("correction", "share")]
    back, owed = [of_kind.first.locator(".moved").inner_text() for of_kind in entries]
    assert minor(back) == minor(owed) == share > 0
    assert ("you owe" in owed, "you owe" in back) == (True, False)
    go(owner, f"/lots/{lot}")
    owner.get_by_text(said["lot.state.called_off"]).wait_for()
    owner.get_by_role("link", name=said["lot.again"]).click()
    fill(owner, {"start_temperature_c": "-18"})
    assert owner.locator("[name=mass_kg]").input_value() == "95"
    owner.locator("form .button.first").click()
    owner.get_by_text("waits for a carton").wait_for()


def kept(page, address):
    """Opens a screen and waits until what it shows is kept."""
    go(page, address)
    page.wait_for_load_state("networkidle")


def test_without_a_signal_lots_open_with_their_age_and_nothing_typed_is_lost(held_by, words):
    said = words["en"]
    page = held_by(role="member")
    kept(page, "/lots")
    kept(page, "/lots/new")
    page.context.set_offline(True)
    go(page, "/lots")
    page.locator(".entry-line").first.wait_for()
    page.get_by_text(said["old.silent"]).wait_for()
    go(page, "/lots/new")
    fill(page, {"mass_kg": "17.5", "frozen_since": YESTERDAY})
    go(page, "/lots")
    go(page, "/lots/new")
    assert page.locator("[name=mass_kg]").input_value() == "17.5"
    page.locator("form .button.first").click()
    page.locator(".entry-line", has_text=said["outbox.kept"]).wait_for()
    go(page, "/lots")
    page.locator(".entry-line", has_text="17.5 kg").first.wait_for()


def test_a_lot_is_offered_once_however_often_the_button_is_touched(held_by):
    page = held_by(role="member")
    person = people_of(page, "member")[0]
    before = count_of_lots(page, person)
    go(page, "/lots/new")
    fill(page, {"mass_kg": "11", "frozen_since": YESTERDAY})
    page.locator("form .button.first").evaluate("(one) => [1, 2, 3].forEach(() => one.click())")
    page.wait_for_url("**/lots/*-*")
    assert count_of_lots(page, person) == before + 1


def count_of_lots(page, person):
    return enrolled(page, person)("/api/v1/lots/")["count"]


def test_a_lot_that_weighs_too_much_is_refused_at_its_field(held_by):
    page = held_by(role="member")
    go(page, "/lots/new")
    fill(page, {"mass_kg": "9000", "frozen_since": YESTERDAY})
    page.locator("form .button.first").click()
    assert "5000" in page.locator("#fault-mass_kg").inner_text().replace(" ", "").replace(",", "")
    assert page.locator("[name=mass_kg]").input_value() == "9000"
