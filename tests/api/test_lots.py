"""Lots: a member offers and moves her own, whoever packs everybody's."""

from uuid import uuid4

import pytest

from api.lots import LotOut
from tests.api.packing_scene import clock, day, lot_body, made, offered
from tests.api.test_openapi import differences
from tests.factories.lots import LotFactory
from tests.factories.parcels import ParcelCartonFactory, PartFactory, lot_of, parcel_of

__all__ = ["clock", "day"]


def changed(day, lot, who="anna", **changes):
    return getattr(day, who).patch(f"lots/{lot['id']}/", changes)


def fields(answer):
    return {one["field"]: one["value"] for one in answer["error"]["fields"]}


def test_what_was_offered_is_told_by_the_clock_of_the_cooperative(day):
    lot = offered(day, "anna", 20.0, deliver_by="2026-03-04T08:00:00Z", note="two bags", may_be_split=True)
    assert lot == {
        "id": lot["id"],
        "member": {"id": day.members["anna"].pk, "name": "Anna"},
        "route": {"slug": "south", "name": day.shore.route.name},
        "buyer": {"slug": "market", "name": day.shore.buyer.name},
        "species": {"code": day.shore.species.code, "name": day.shore.species.name_en},
        "mass_kg": 20.0,
        "frozen_since": "2026-02-28T06:00:00+02:00",
        "ready_at": "2026-03-01T06:00:00+02:00",
        "start_temperature_c": -18.0,
        "deliver_by": "2026-03-04T10:00:00+02:00",
        "may_be_split": True,
        "offered_at": "2026-03-01T14:00:00+02:00",
        "withdrawn_at": None,
        "note": "two bags",
        "state": "offered",
        "placed_kg": 0.0,
        "promised_kg": 0.0,
        "left_kg": 20.0,
        "parcels": [],
        "edition": lot["edition"],
    }
    assert differences(LotOut(), lot) == []


def test_a_member_sees_her_own_and_whoever_packs_all(day):
    anna, bwalya = offered(day, "anna", 20.0), offered(day, "bwalya", 30.0)
    assert [lot["id"] for lot in made(day.anna("lots/"), 200)["results"]] == [anna["id"]]
    assert {lot["id"] for lot in made(day.packer("lots/"), 200)["results"]} == {anna["id"], bwalya["id"]}
    assert day.bwalya(f"lots/{anna['id']}/")[0] == 404
    assert changed(day, anna, "bwalya", note="mine")[0] == 404
    assert day.bwalya.post(f"lots/{anna['id']}/withdraw/")[0] == 404


def test_whoever_packs_offers_for_a_member_and_a_member_for_nobody_else(day):
    anna = day.members["anna"].pk
    lot = made(day.packer.post("lots/", lot_body(day, member=anna)))
    assert lot["member"]["name"] == "Anna"
    status, answer = day.bwalya.post("lots/", lot_body(day, member=anna))
    assert (status, answer["error"]["code"]) == (403, "not_allowed")
    assert made(day.packer("lots/"), 200)["count"] == 1


def test_the_same_lot_sent_again_is_answered_with_the_first(day, clock):
    body = lot_body(day, id=str(uuid4()))
    first = made(day.anna.post("lots/", body))
    clock.later(minutes=3)
    assert made(day.anna.post("lots/", body), 200) == first
    status, answer = day.bwalya.post("lots/", body)
    assert (status, answer["error"]["code"]) == (409, "conflict")
    assert made(day.packer("lots/"), 200)["count"] == 1


def test_a_lot_is_changed_only_where_that_was_asked(day):
    lot = offered(day, "anna", 20.0, may_be_split=True)
    after = made(changed(day, lot, mass_kg=25, deliver_by="2026-03-05T08:00:00+02:00"), 200)
    asked = {"mass_kg": 25.0, "left_kg": 25.0, "deliver_by": "2026-03-05T08:00:00+02:00"}
    assert after == lot | asked | {"edition": after["edition"]}
    assert after["edition"] != lot["edition"]
    status, answer = changed(day, lot, member=day.members["bwalya"].pk)
    assert (status, fields(answer)) == (400, {"member": str(day.members["bwalya"].pk)})
    assert changed(day, lot)[0] == 400


def test_a_lot_that_was_withdrawn_stays_so(day):
    lot = offered(day, "anna", 20.0)
    withdrawn = made(day.anna.post(f"lots/{lot['id']}/withdraw/"), 200)
    assert (withdrawn["state"], withdrawn["left_kg"]) == ("withdrawn", 0.0)
    assert withdrawn["withdrawn_at"] == "2026-03-01T14:00:00+02:00"
    assert made(day.anna.post(f"lots/{lot['id']}/withdraw/"), 200) == withdrawn
    assert changed(day, lot, note="again")[0] == 409


def test_a_lot_tells_the_parcels_in_which_it_lies_each_once(day):
    shore = day.shore
    lot = lot_of(shore, member=day.members["anna"], mass_kg=30, may_be_split=True)
    parcel = parcel_of(shore)
    PartFactory(carton=parcel.cartons.get(), lot=lot, mass_kg=10)
    PartFactory(carton=ParcelCartonFactory(parcel=parcel, position=2), lot=lot, mass_kg=5.5)
    found = made(day.anna(f"lots/{lot.uuid}/"), 200)
    assert (found["state"], found["placed_kg"], found["left_kg"]) == ("partly_placed", 15.5, 14.5)
    assert found["parcels"] == [
        {
            "id": str(parcel.uuid),
            "state": "open",
            "departs_at": "2026-03-02T16:00:00+02:00",
            "mass_kg": 15.5,
        }
    ]
    status, answer = changed(day, found, mass_kg=31)
    assert (status, answer["error"]["code"]) == (409, "conflict")
    assert made(changed(day, found, note="second bag"), 200)["note"] == "second bag"


def test_lots_are_filtered_field_by_field(day):
    first, second = offered(day, "anna", 20.0), offered(day, "bwalya", 30.0)
    day.bwalya.post(f"lots/{second['id']}/withdraw/")
    asked = {
        "member": day.members["anna"].pk,
        "state": "offered",
        "route": "south",
        "buyer": "market",
    }
    for name, value in asked.items():
        found = [lot["id"] for lot in made(day.packer("lots/", **{name: value}), 200)["results"]]
        assert first["id"] in found
        assert (second["id"] in found) == (name in ("route", "buyer"))
    assert made(day.packer("lots/", state="withdrawn"), 200)["count"] == 1
    assert day.packer("lots/", state="lost")[0] == 400
    assert made(day.packer("lots/", route="north"), 200)["count"] == 0


REFUSED = [
    ({"mass_kg": 0}, "mass_kg", "0"),
    ({"mass_kg": "20"}, "mass_kg", "20"),
    ({"mass_kg": 5001}, "mass_kg", "5001"),
    ({"mass_kg": None}, "mass_kg", None),
    ({"start_temperature_c": -46}, "start_temperature_c", "-46"),
    ({"start_temperature_c": -1}, "start_temperature_c", "-1"),
    ({"ready_at": "2026-03-01T06:00:00"}, "ready_at", "2026-03-01T06:00:00"),
    ({"route": "north"}, "route", "north"),
    ({"buyer": "nobody"}, "buyer", "nobody"),
    ({"species": "QQQ"}, "species", "QQQ"),
    ({"id": "no id"}, "id", "no id"),
    ({"may_be_split": 1}, "may_be_split", "1"),
    ({"note": "x" * 501}, "note", "x" * 79 + "…"),
    ({"weight": 3}, "weight", "3"),
]


@pytest.mark.parametrize(("changes", "field", "value"), REFUSED, ids=lambda part: str(part)[:40])
def test_what_is_wrong_is_named_by_its_field_and_nothing_is_written(day, changes, field, value):
    status, answer = day.anna.post("lots/", lot_body(day, **changes))
    assert status == 400
    assert fields(answer) == {field: value}
    assert answer["error"]["fields"][0]["right"]
    assert made(day.anna("lots/"), 200)["count"] == 0


def test_hours_that_do_not_follow_one_another_are_refused(day):
    for name, instant in (
        ("frozen_since", "2026-03-01T07:00:00+02:00"),
        ("ready_at", "2026-06-01T06:00:00+02:00"),
        ("deliver_by", "2026-03-01T06:00:00+02:00"),
    ):
        status, answer = day.anna.post("lots/", lot_body(day, **{name: instant}))
        assert (status, list(fields(answer))) == (400, [name])


def test_what_belongs_to_strangers_is_not_known(day, theirs_trading):
    for name, row in (("route", theirs_trading.route), ("buyer", theirs_trading.buyer)):
        status, answer = day.anna.post("lots/", lot_body(day, **{name: row.slug}))
        assert (status, fields(answer)) == (400, {name: row.slug})


def test_an_id_that_strangers_gave_before_is_refused_and_tells_nothing_of_theirs(day, theirs):
    strange = LotFactory(cooperative=theirs, note="secret")
    status, answer = day.anna.post("lots/", lot_body(day, id=str(strange.uuid)))
    assert status in (400, 409)
    assert "secret" not in str(answer)
    assert made(day.anna("lots/"), 200)["count"] == 0
