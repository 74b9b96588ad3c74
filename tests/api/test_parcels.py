"""Parcels: all members see names and kilograms, and money only who shares it or packs."""

from datetime import timedelta
from uuid import uuid4

import pytest

from api.parcels_item import ParcelOut, a_kilogram
from tests.api.packing_scene import (
    CLOSES_AT,
    clock,
    closed,
    day,
    joined,
    made,
    offered,
    opened,
    parcel_body,
    shared,
)
from tests.api.test_openapi import differences
from tests.factories.parcels import (
    DEPARTS_AT,
    ParcelCartonFactory,
    PartFactory,
    departed,
    handed_over,
    lot_of,
    parcel_of,
)
from tests.factories.parcels import (
    closed as closed_row,
)
from tests.factories.shares import BillLineFactory, ShareFactory, StabilityFactory
from tests.selectors.queries import questions

__all__ = ["clock", "day"]


def fields(answer):
    return {one["field"]: one["value"] for one in answer["error"]["fields"]}


def billed(day, **facts):
    """A closed parcel of 20 kg of Anna's and 30 of Bwalya's; 1001 was paid for it, 400 of that by Anna."""
    parcel = parcel_of(day.shore)
    for who, mass_kg in (("anna", 20.0), ("bwalya", 30.0)):
        lot = lot_of(day.shore, member=day.members[who], mass_kg=mass_kg)
        PartFactory(carton=parcel.cartons.get(), lot=lot)
    closed_row(parcel, **facts)
    BillLineFactory(parcel=parcel, amount_minor=1001)
    for who, amount in (("anna", 400), ("bwalya", 601)):
        ShareFactory(parcel=parcel, member=day.members[who], amount_minor=amount, alone_minor=900)
    StabilityFactory(parcel=parcel)
    return parcel


def money_in(parcel):
    return parcel["cost_minor"], parcel["cost_per_kg_minor"], parcel["mine"]


def test_a_parcel_that_was_opened_is_empty_and_has_its_hours(day):
    parcel = opened(day, cartons=2)
    assert differences(ParcelOut(), parcel) == []
    assert (parcel["state"], parcel["mass_kg"], parcel["members"], parcel["mine"]) == ("open", 0, 0, None)
    assert parcel["departs_at"] == "2026-03-02T16:00:00+02:00"
    assert parcel["closes_at"] == "2026-03-02T15:20:00+02:00"
    assert parcel["departure"] == f"{day.shore.timetable.pk}-20260302-common"
    assert [carton["position"] for carton in parcel["cartons"]] == [1, 2]
    assert {carton["safe"] for carton in parcel["cartons"]} == {None}
    assert parcel["room_kg"] == sum(carton["capacity_kg"] for carton in parcel["cartons"])
    assert made(day.anna(f"parcels/{parcel['id']}/"), 200) == parcel


def test_the_same_parcel_opened_again_is_answered_with_the_first(day, clock):
    body = parcel_body(day, id=str(uuid4()))
    first = made(day.packer.post("parcels/", body))
    clock.later(minutes=3)
    assert made(day.packer.post("parcels/", body), 200) == first
    assert day.manager.post("parcels/", body)[0] == 409
    assert made(day.anna("parcels/"), 200)["count"] == 1


def test_a_parcel_names_whose_fish_lies_in_it_and_what_of_it_is_hers(day):
    parcel = shared(day, anna=20.0, bwalya=35.0)
    seen = made(day.anna(f"parcels/{parcel['id']}/"), 200)
    assert differences(ParcelOut(), seen) == []
    [carton] = seen["cartons"]
    told = [(part["member"]["name"], part["mass_kg"], part["mine"]) for part in carton["parts"]]
    assert told == [("Anna", 20.0, True), ("Bwalya", 35.0, False)]
    assert carton["room_kg"] == carton["capacity_kg"] - 55
    assert (carton["safe"], carton["reason"]) == (True, None)
    assert 0.95 <= carton["chance_hard"] <= 1


def test_money_is_for_who_shares_it_or_packs(day):
    parcel = billed(day)
    address = f"parcels/{parcel.uuid}/"
    own = {"mass_kg": 20.0, "share_minor": 400, "alone_minor": 900}
    assert money_in(made(day.anna(address), 200)) == (1001, 21, own)
    assert money_in(made(day.packer(address), 200)) == (1001, 21, None)
    assert money_in(made(day.chanda(address), 200)) == (None, None, None)
    for who in ("anna", "packer", "chanda"):
        ask = getattr(day, who)
        assert made(ask("parcels/"), 200)["results"] == [made(ask(address), 200)]


def test_an_open_parcel_tells_its_cost_by_itself_and_not_in_a_list(day):
    parcel = shared(day, anna=20.0, bwalya=35.0)
    alone = made(day.anna(f"parcels/{parcel['id']}/"), 200)
    assert 0 < alone["mine"]["share_minor"] < alone["cost_minor"]
    assert alone["mine"]["share_minor"] <= alone["mine"]["alone_minor"]
    assert 55 * (alone["cost_per_kg_minor"] - 1) < alone["cost_minor"] <= 55 * alone["cost_per_kg_minor"]
    [listed] = made(day.anna("parcels/"), 200)["results"]
    unknown = {"mass_kg": 20.0, "share_minor": None, "alone_minor": None}
    assert money_in(listed) == (None, None, unknown)
    assert listed["cartons"] == alone["cartons"]


def test_a_kilogram_is_never_told_to_cost_less_than_it_does():
    assert a_kilogram(1000, 50.0) == 20
    assert a_kilogram(1001, 50.0) == 21
    assert a_kilogram(10, 0.003) == 3334
    assert a_kilogram(None, 50.0) is None
    assert a_kilogram(0, 0.0) is None


def test_a_closed_carton_tells_what_was_judged_when_it_closed(day):
    latest = DEPARTS_AT + timedelta(hours=2)
    parcel = billed(day, chance_hard=0.98765, latest_safe_departure_at=latest, gross_mass_kg=99.5)
    [carton] = made(day.anna(f"parcels/{parcel.uuid}/"), 200)["cartons"]
    assert (carton["safe"], carton["chance_hard"], carton["room_kg"]) == (True, 0.987, 0.0)
    assert carton["latest_safe_departure_at"] == "2026-03-02T18:00:00+02:00"
    assert carton["gross_mass_kg"] == 99.5


def test_a_carton_that_left_too_late_or_still_stands_there_is_not_called_safe(day, clock):
    latest = DEPARTS_AT + timedelta(hours=2)
    parcel = billed(day, latest_safe_departure_at=latest)
    address = f"parcels/{parcel.uuid}/"
    clock.at(latest)
    assert made(day.anna(address), 200)["cartons"][0]["safe"] is True
    clock.later(minutes=1)
    [stands] = made(day.anna(address), 200)["cartons"]
    assert (stands["safe"], stands["chance_hard"]) == (False, None)
    assert stands["reason"]["code"] == "stands_too_long"
    assert "until 2026-03-02 18:00 only" in stands["reason"]["words"]
    departed(parcel, departed_at=clock.now)
    [late] = made(day.anna(address), 200)["cartons"]
    assert (late["safe"], late["chance_hard"], late["reason"]["code"]) == (False, None, "left_too_late")
    assert "left at 2026-03-02 18:01" in late["reason"]["words"]


def test_how_it_was_handed_over_is_told(day):
    parcel = handed_over(departed(billed(day), driver="Moses", departed_note="full"), soft_kg=0.0)
    found = made(day.anna(f"parcels/{parcel.uuid}/"), 200)
    assert differences(ParcelOut(), found) == []
    assert (found["driver"], found["departed_note"]) == ("Moses", "full")
    assert found["handed_over"] == {
        "arrived_at": "2026-03-02T21:00:00+02:00",
        "at": "2026-03-02T22:00:00+02:00",
        "is_hard": True,
        "soft_kg": 0.0,
        "core_temperature_c": None,
        "received_by": "Receiver",
        "note": "",
    }


def test_parcels_are_filtered_field_by_field(day):
    mine, other = billed(day), parcel_of(day.shore)
    asked = {"state": "closed", "mine": "true", "route": "south", "buyer": "market"}
    for name, value in asked.items():
        found = [one["id"] for one in made(day.anna("parcels/", **{name: value}), 200)["results"]]
        assert str(mine.uuid) in found
        assert (str(other.uuid) in found) == (name in ("route", "buyer"))
    assert [one["id"] for one in made(day.anna("parcels/", mine="false"), 200)["results"]] == [
        str(other.uuid)
    ]
    for name, value in (("state", "lost"), ("mine", "yes"), ("driver", "Moses")):
        assert day.anna("parcels/", **{name: value})[0] == 400


def test_thirty_open_parcels_with_fish_take_as_many_questions_as_one(day):
    def more():
        parcel = parcel_of(day.shore)
        PartFactory(carton=parcel.cartons.get(), lot=lot_of(day.shore, mass_kg=50))
        PartFactory(carton=ParcelCartonFactory(parcel=parcel, position=2), lot=lot_of(day.shore, mass_kg=50))

    def ask():
        answer = made(day.packer("parcels/", page_size=100), 200)
        assert all(one["cartons"][1]["safe"] for one in answer["results"])
        return answer["count"]

    more()
    ask()
    one = questions(ask)
    for _ in range(29):
        more()
    assert questions(ask) == one
    assert ask() == 30


REFUSED = [
    ({"timetable": 10**9}, "timetable", "1000000000"),
    ({"timetable": "1"}, "timetable", "1"),
    ({"date": "2026-02-28"}, "date", "2026-02-28"),
    ({"date": "2026-02-30"}, "date", "2026-02-30"),
    ({"date": "2027-03-02"}, "date", "2027-03-02"),
    ({"carton_design": "barrel"}, "carton_design", "barrel"),
    ({"buyer": "nobody"}, "buyer", "nobody"),
    ({"cartons": 0}, "cartons", "0"),
    ({"cartons": 1.5}, "cartons", "1.5"),
    ({"seats": 2}, "seats", "2"),
]


@pytest.mark.parametrize(("changes", "field", "value"), REFUSED, ids=lambda part: str(part)[:40])
def test_what_cannot_be_opened_is_named_by_its_field(day, changes, field, value):
    status, answer = day.packer.post("parcels/", parcel_body(day, **changes))
    assert status == 400
    assert fields(answer) == {field: value}
    assert made(day.packer("parcels/"), 200)["count"] == 0


def test_more_cartons_than_the_vehicle_has_places_are_refused(day):
    places = day.shore.carrier.carton_places
    status, answer = day.packer.post("parcels/", parcel_body(day, cartons=places + 1))
    assert (status, answer["error"]["code"]) == (409, "conflict")
    assert answer["error"]["fields"][0]["right"] == f"at most {places}"


@pytest.mark.parametrize("what", ["prices", "timetable", "legs", "climate"])
def test_a_parcel_is_shown_whatever_has_become_of_what_it_rests_on(day, what):
    parcel = shared(day, anna=20.0)
    shore = day.shore
    if what == "prices":
        shore.tariff.delete()
    elif what == "timetable":
        type(shore.timetable).objects.filter(pk=shore.timetable.pk).update(valid_until="2026-03-01")
    elif what == "legs":
        shore.route.legs.all().delete()
    else:
        shore.route.origin.climates.all().delete()
    found = made(day.anna(f"parcels/{parcel['id']}/"), 200)
    assert found["mass_kg"] == 20.0
    if what == "prices":
        assert (found["cost_minor"], found["mine"]["share_minor"]) == (None, None)
    else:
        assert found["cartons"][0]["safe"] is False
        assert found["cartons"][0]["reason"]["words"]
    assert made(day.anna("parcels/"), 200)["results"][0]["cartons"] == found["cartons"]
    assert day.anna(f"parcels/{parcel['id']}/split/")[0] == (400 if what in ("legs", "climate") else 200)


def test_lots_and_parcels_that_were_closed_stay_as_they_are(day, clock):
    parcel = shared(day, anna=60.0)
    later = offered(day, "bwalya", 20.0)
    clock.at(CLOSES_AT)
    before = closed(day, parcel)
    address = f"parcels/{parcel['id']}"
    lot = before["cartons"][0]["parts"][0]["lot"]
    for body in ({"lot": later["id"]}, {"lot": lot}):
        for step in ("join", "leave"):
            assert day.packer.post(f"{address}/{step}/", body)[0] in (404, 409)
    assert day.packer.post(f"{address}/cartons/1/close/")[0] == 409
    assert made(day.packer(f"{address}/"), 200) == before


def test_a_lot_is_joined_by_its_owner_or_who_packs(day):
    parcel, lot = opened(day), offered(day, "anna", 20.0)
    body = {"lot": lot["id"]}
    assert day.bwalya.post(f"parcels/{parcel['id']}/join/", body)[0] == 403
    assert joined(day, "packer", parcel, lot)["mass_kg"] == 20.0
    assert day.bwalya.post(f"parcels/{parcel['id']}/leave/", body)[0] == 403
    assert made(day.anna.post(f"parcels/{parcel['id']}/leave/", body), 200)["mass_kg"] == 0.0


def test_why_a_carton_is_not_safe_is_told_in_the_language_of_whoever_asks(day, clock):
    parcel = billed(day, latest_safe_departure_at=DEPARTS_AT)
    clock.at(DEPARTS_AT + timedelta(minutes=1))
    day.anna.client.defaults["HTTP_ACCEPT_LANGUAGE"] = "fr"
    [carton] = made(day.anna(f"parcels/{parcel.uuid}/"), 200)["cartons"]
    assert carton["reason"]["language"] == "fr"
    assert "remettez le poisson au congélateur" in carton["reason"]["words"]
