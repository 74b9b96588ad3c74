"""A quote of a lot by the interface: the lot says what of it is promised, and what is left."""

import pytest

from api.lots import LotOut
from api.quotes_shapes import SentOut
from coop.models import Lot
from coop.services.lots import withdraw_lot
from tests.api.people import asking_as, cast
from tests.api.quote_rows import quoting
from tests.api.test_openapi import differences
from tests.factories.buyers import BuyerFactory
from tests.factories.lots import LotFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def people(ours, theirs):
    return cast(ours, theirs)


@pytest.fixture
def body(people):
    """What is sent to quote a lot of the owner's, 80 kg."""
    asked = quoting(people)
    fish = asked.pop("fish")
    buyer = people.ours.buyers.get(slug=asked["buyer"])
    row = LotFactory(
        cooperative=people.ours,
        member=people.owner,
        route=people.ours.routes.get(destination=buyer.place),
        buyer=buyer,
        species=people.ours.fishprices.get().species,
        mass_kg=fish["mass_kg"],
        **{name: fish[name] for name in ("frozen_since", "ready_at", "start_temperature_c")},
    )
    return {**asked, "lot": str(row.uuid)}


@pytest.fixture
def ask(people):
    return asking_as(people.owner)


def accept(ask, sent, kg):
    path = sent["address"].removeprefix("http://testserver")
    return ask.client.post(f"{path}accept/", {"kg": kg, "name": "Mr Banda"})


def fields_of(answer):
    return {one["field"] for one in answer[1]["error"]["fields"]}


def test_what_a_buyer_accepts_is_promised_of_her_lot_and_she_sees_what_is_left(ask, body):
    status, sent = ask.post("quotes/", body)
    assert (status, differences(SentOut(), sent)) == (201, [])
    supply = sent["quote"]["supply"]
    assert (supply["lot"], supply["mass_kg"], supply["left_kg"]) == (body["lot"], 80.0, 80.0)
    assert accept(ask, sent, "60").status_code == 303
    hers = ask(f"lots/{body['lot']}/")[1]
    assert differences(LotOut(), hers) == []
    kilograms = [hers[name] for name in ("mass_kg", "placed_kg", "promised_kg", "left_kg")]
    assert kilograms == [80.0, 0.0, 60.0, 20.0]
    assert (hers["state"], ask("lots/", state="offered")[1]["count"]) == ("offered", 2)
    became = ask(f"quotes/{sent['quote']['id']}/")[1]["lot"]
    sold = ask(f"lots/{became}/")[1]
    assert [sold[name] for name in ("mass_kg", "promised_kg", "left_kg")] == [60.0, 0.0, 60.0]
    status, answer = ask.patch(f"lots/{body['lot']}/", {"mass_kg": 90})
    assert (status, fields_of((status, answer))) == (409, {"lot"})


def test_the_second_buyer_reads_how_much_is_left(ask, body):
    sent = [ask.post("quotes/", body)[1] for _ in range(2)]
    assert ask("quotes/", lot=body["lot"])[1]["count"] == 2
    assert accept(ask, sent[0], "40").status_code == 303
    refused = accept(ask, sent[1], "60")
    assert refused.status_code == 409
    assert "40 kg" in refused.content.decode()
    assert accept(ask, sent[1], "40").status_code == 303
    hers = ask(f"lots/{body['lot']}/")[1]
    assert (hers["state"], hers["promised_kg"], hers["left_kg"]) == ("promised", 80.0, 0.0)
    assert ask("lots/", state="promised")[1]["count"] == 1
    again = ask.post("quotes/", body)
    assert (again[0], fields_of(again)) == (409, {"lot"})


def test_a_preview_of_a_lot_writes_nothing(ask, body):
    status, shown = ask.post("quotes/preview/", body)
    assert (status, shown["supply"]["id"], shown["supply"]["lot"]) == (200, None, body["lot"])
    assert ask("quotes/", lot=body["lot"])[1]["count"] == 0


def test_a_lot_of_somebody_else_is_not_known_and_whoever_packs_quotes_it(people, body):
    assert asking_as(people.packer).post("quotes/", body)[0] == 201
    fellow = asking_as(people.fellow).post("quotes/", body)
    assert (fellow[0], fields_of(fellow)) == (400, {"lot"})
    assert asking_as(people.stranger).post("quotes/", body)[0] == 400
    theirs = LotFactory(cooperative=people.theirs)
    strange = asking_as(people.packer).post("quotes/", {**body, "lot": str(theirs.uuid)})
    assert (strange[0], fields_of(strange)) == (400, {"lot"})


def test_what_is_no_lot_to_quote_is_refused_by_name(people, ask, body):
    assert fields_of(ask.post("quotes/", {**body, "lot": "mine"})) == {"lot"}
    fish = quoting_fish(people)
    twice = ask.post("quotes/", {**body, "fish": fish})
    assert (twice[0], fields_of(twice)) == (400, {"supply"})
    withdraw_lot(by=people.owner, lot=Lot.objects.get(uuid=body["lot"]))
    gone = ask.post("quotes/", body)
    assert (gone[0], fields_of(gone)) == (409, {"lot"})


def quoting_fish(people):
    row = Lot.objects.of(people.ours).get()
    return {
        "species": row.species.code,
        "mass_kg": 80,
        "frozen_since": row.frozen_since.isoformat(),
        "ready_at": row.ready_at.isoformat(),
        "start_temperature_c": -25,
    }


def test_another_buyer_than_the_one_it_was_offered_to_may_get_it(people, ask, body):
    buyer = people.ours.buyers.get(slug=body["buyer"])
    other = BuyerFactory(cooperative=people.ours, place=buyer.place)
    status, sent = ask.post("quotes/", {**body, "buyer": other.slug})
    assert status == 201
    assert accept(ask, sent, "60").status_code == 303
    sold = Lot.objects.of(people.ours).exclude(uuid=body["lot"]).get()
    assert (sold.buyer, sold.mass_kg) == (other, 60.0)
    assert ask(f"lots/{body['lot']}/")[1]["left_kg"] == 20.0
