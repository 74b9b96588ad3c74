"""Steps of a parcel that are refused, and what then stays as it was."""

import pytest

from tests.api.packing_scene import clock, day, joined, made, offered, opened, shared
from tests.factories.parcels import PartFactory, closed, departed, lot_of, parcel_of
from tests.factories.scene import thin_carton
from tests.factories.shares import ShareFactory

__all__ = ["clock", "day"]

NOW = "2026-03-02T16:10:00+02:00"
HANDED_OVER = {"handed_over_at": "2026-03-02T20:00:00+02:00", "is_hard": True}


def refused(answer, status=400):
    found, body = answer
    assert found == status, body
    return {one["field"]: one["value"] for one in body["error"]["fields"]}


def test_only_so_much_of_a_lot_as_its_owner_consents_to_goes_into_one_carton(day):
    parcel = opened(day)
    whole, divisible = offered(day, "anna", 20.0), offered(day, "bwalya", 30.0, may_be_split=True)
    address = f"parcels/{parcel['id']}/join/"
    assert refused(day.anna.post(address, {"lot": whole["id"], "mass_kg": 5})) == {"mass_kg": "5.0"}
    assert joined(day, "bwalya", parcel, divisible, mass_kg=12.5, carton=1)["mass_kg"] == 12.5
    assert made(day.bwalya(f"lots/{divisible['id']}/"), 200)["left_kg"] == 17.5
    assert refused(day.bwalya.post(address, {"lot": divisible["id"], "mass_kg": 18})) == {"mass_kg": "18.0"}
    assert day.bwalya.post(address, {"lot": divisible["id"], "carton": 9})[0] == 404


def test_a_lot_of_strangers_is_not_known(day, theirs_trading):
    parcel = opened(day)
    lot = lot_of(theirs_trading)
    for step in ("join", "leave"):
        answer = day.packer.post(f"parcels/{parcel['id']}/{step}/", {"lot": str(lot.uuid)})
        assert refused(answer) == {"lot": str(lot.uuid)}


def test_fish_that_would_soften_is_refused_with_the_figures(day, theirs):
    thin = thin_carton(day.shore.cooperative)
    type(day.shore.route.legs.get()).objects.filter(route=day.shore.route).update(
        hours_mean=30, hours_floor=20
    )
    parcel, lot = opened(day, carton_design=thin.slug), offered(day, "anna", 20.0)
    status, answer = day.anna.post(f"parcels/{parcel['id']}/join/", {"lot": lot["id"]})
    assert (status, answer["error"]["code"]) == (409, "not_safe")
    assert "surely holds only" in answer["error"]["message"]
    assert answer["error"]["fields"][0]["field"] == "lot"
    assert made(day.anna(f"lots/{lot['id']}/"), 200)["state"] == "offered"


def test_places_of_empty_cartons_are_taken_and_given_back(day):
    parcel = opened(day)
    address = f"parcels/{parcel['id']}/cartons/"
    parcel = made(day.packer.post(address), 200)
    assert [carton["position"] for carton in parcel["cartons"]] == [1, 2]
    parcel = made(day.packer.post(f"{address}1/drop/"), 200)
    assert [carton["position"] for carton in parcel["cartons"]] == [2]
    assert day.packer.post(f"{address}2/drop/")[0] == 409
    for step in ("close", "drop"):
        assert day.packer.post(f"{address}1/{step}/")[0] == 404
        assert day.packer.post(f"{address}{10**30}/{step}/")[0] == 404


def test_a_parcel_takes_its_steps_in_order(day, clock):
    parcel = shared(day, anna=60.0)
    address = f"parcels/{parcel['id']}"
    steps = {
        "depart": {"departed_at": NOW},
        "hand-over": HANDED_OVER,
        "settle": {"received_minor": None},
        "call-off": {"note": "it did not come"},
        "corrections": {"amount_minor": 5, "note": "toll"},
    }
    for step, body in steps.items():
        assert refused(day.packer.post(f"{address}/{step}/", body), 409)
    assert made(day.packer(f"{address}/"), 200)["state"] == "open"


def parcel_of_anna(day):
    parcel = parcel_of(day.shore)
    lot = lot_of(day.shore, member=day.members["anna"], mass_kg=50.0)
    PartFactory(carton=parcel.cartons.get(), lot=lot)
    return parcel


def on_the_way(day):
    parcel = closed(parcel_of_anna(day))
    ShareFactory(parcel=parcel, member=day.members["anna"])
    return departed(parcel)


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"soft_kg": 50.1, "is_hard": False}, "soft_kg"),
        ({"soft_kg": None, "is_hard": False}, "soft_kg"),
        ({"soft_kg": -1}, "soft_kg"),
        ({"is_hard": "yes"}, "is_hard"),
        ({"is_hard": None}, "is_hard"),
        ({"handed_over_at": "2026-03-02T15:00:00+02:00"}, "handed_over_at"),
        ({"handed_over_at": "2026-03-09T15:00:00+02:00"}, "handed_over_at"),
        ({"arrived_at": "2026-03-02T15:00:00+02:00"}, "arrived_at"),
        ({"core_temperature_c": 61}, "core_temperature_c"),
    ],
)
def test_a_hand_over_that_cannot_be_is_refused_by_its_field(day, clock, changes, field):
    parcel = on_the_way(day)
    clock.later(days=2)
    assert list(refused(day.packer.post(f"parcels/{parcel.uuid}/hand-over/", HANDED_OVER | changes))) == [
        field
    ]
    assert made(day.packer(f"parcels/{parcel.uuid}/"), 200)["state"] == "departed"


@pytest.mark.parametrize("body", [{}, {"note": ""}, {"note": " "}, {"note": None}, {"note": "x" * 501}])
def test_whoever_calls_a_parcel_off_says_why(day, body):
    parcel = closed(parcel_of_anna(day))
    assert "note" in refused(day.packer.post(f"parcels/{parcel.uuid}/call-off/", body))
    assert made(day.packer(f"parcels/{parcel.uuid}/"), 200)["state"] == "closed"


def test_what_left_is_not_called_off(day):
    parcel = on_the_way(day)
    answer = day.packer.post(f"parcels/{parcel.uuid}/call-off/", {"note": "too late"})
    assert refused(answer, 409) == {"parcel": str(parcel.uuid)}
    assert made(day.packer(f"parcels/{parcel.uuid}/"), 200)["state"] == "departed"


def test_a_correction_sent_twice_is_one(day, clock):
    parcel = on_the_way(day)
    body = {"id": "7d9f1c1e-3f0a-4f0e-9c51-2f5b6a0d4c19", "amount_minor": 3000, "note": "toll"}
    for _ in range(2):
        made(day.packer.post(f"parcels/{parcel.uuid}/corrections/", body), 200)
    assert made(day.anna("statement/"), 200)["balance_minor"] == 3000
    answer = day.packer.post(f"parcels/{parcel.uuid}/corrections/", body | {"amount_minor": 0})
    assert answer[0] in (400, 409)


@pytest.mark.parametrize("received", [-1, 1.5, "5", True, 10**12 + 1, 10**400])
def test_money_is_a_whole_number_that_somebody_could_have(day, received):
    parcel = on_the_way(day)
    answer = day.packer.post(f"parcels/{parcel.uuid}/settle/", {"received_minor": received})
    assert list(refused(answer)) == ["received_minor"]
    assert "received_minor" in refused(day.packer.post(f"parcels/{parcel.uuid}/settle/", {}))
