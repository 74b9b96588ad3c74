"""The scene of the issue through the interface: three share a carton, a fourth finds no room."""

import pytest

from tests.api.packing_scene import CLOSES_AT, clock, closed, day, joined, made, offered, opened

__all__ = ["clock", "day"]

MASSES = {"anna": 20.0, "bwalya": 35.0, "chanda": 45.0}


@pytest.fixture
def shared(day):
    """A parcel in which the lots of three lie."""
    lots = {who: offered(day, who, mass_kg) for who, mass_kg in MASSES.items()}
    parcel = opened(day)
    for who, lot in lots.items():
        parcel = joined(day, who, parcel, lot)
    return parcel


def test_three_share_a_carton_and_a_fourth_is_told_the_next_departure(day, shared):
    assert (shared["mass_kg"], shared["members"]) == (100.0, 3)
    assert shared["cartons"][0]["safe"] is True
    fourth = offered(day, "esther", 28.0)
    status, refusal = day.esther.post(f"parcels/{shared['id']}/join/", {"lot": fourth["id"]})
    assert (status, refusal["error"]["code"]) == (409, "no_room")
    assert "2026-03-03 16:00" in refusal["error"]["message"]
    room, following = refusal["error"]["fields"]
    assert (room["field"], room["value"]) == ("mass_kg", "28.0")
    assert f"at most {shared['room_kg']:g} kg" in room["right"]
    tuesday = f"{day.shore.timetable.pk}-20260303-{day.shore.design.slug}"
    assert (following["field"], following["value"]) == ("departure", tuesday)
    assert following["right"].startswith("2026-03-03 16:00")
    assert made(day.esther(f"lots/{fourth['id']}/"), 200)["state"] == "offered"


def test_a_parcel_that_is_open_and_later_is_what_a_fourth_is_offered(day, shared):
    tuesday = opened(day, date="2026-03-03")
    fourth = offered(day, "esther", 28.0)
    _, refusal = day.esther.post(f"parcels/{shared['id']}/join/", {"lot": fourth["id"]})
    following = refusal["error"]["fields"][-1]
    assert (following["field"], following["value"]) == ("parcel", tuesday["id"])
    assert joined(day, "esther", tuesday, fourth)["mine"]["mass_kg"] == 28.0


def test_each_sees_her_bill_and_the_bills_sum_to_the_cost(day, clock, shared):
    clock.at(CLOSES_AT)
    parcel = closed(day, shared)
    assert (parcel["state"], parcel["sharing_rule"]) == ("closed", "capped")
    bills = {}
    for who, mass_kg in MASSES.items():
        ask = getattr(day, who)
        mine = made(ask(f"parcels/{shared['id']}/"), 200)["mine"]
        account = made(ask("statement/"), 200)
        assert mine["mass_kg"] == mass_kg
        assert [one["parcel"] for one in account["entries"]] == [shared["id"]]
        assert mine["share_minor"] == account["balance_minor"] <= mine["alone_minor"]
        bills[who] = mine["share_minor"]
    split = made(day.packer(f"parcels/{shared['id']}/split/"), 200)
    lines = sum(line["amount_minor"] for line in split["lines"])
    assert sum(bills.values()) == split["bill_minor"] == lines == parcel["cost_minor"]
    assert [row["balance_minor"] for row in made(day.packer("statements/"), 200)["results"]] == [
        bills.get(who, 0) for who in ("anna", "bwalya", "chanda", "esther", "manager", "packer")
    ]


def test_a_parcel_goes_all_its_way_and_each_gets_her_money(day, clock, shared):
    address = f"parcels/{shared['id']}"
    clock.at(CLOSES_AT)
    closed(day, shared, gross_mass_kg=160.5, core_temperature_c=-17.0)
    clock.later(hours=1)
    left = {"departed_at": "2026-03-02T16:10:00+02:00", "driver": "Moses", "plate": "ABC 123", "note": "full"}
    parcel = made(day.packer.post(f"{address}/depart/", left), 200)
    assert [parcel[name] for name in ("state", "driver", "plate")] == ["departed", "Moses", "ABC 123"]
    clock.later(hours=5)
    arrived = {
        "arrived_at": "2026-03-02T19:00:00+02:00",
        "handed_over_at": "2026-03-02T20:00:00+02:00",
        "is_hard": False,
        "soft_kg": 4.0,
        "core_temperature_c": -6.0,
        "received_by": "Stallkeeper",
    }
    parcel = made(day.packer.post(f"{address}/hand-over/", arrived), 200)
    told = {name: parcel["handed_over"][name] for name in ("at", "is_hard", "soft_kg", "received_by")}
    assert told == {
        "at": "2026-03-02T20:00:00+02:00",
        "is_hard": False,
        "soft_kg": 4.0,
        "received_by": "Stallkeeper",
    }
    parcel = made(day.packer.post(f"{address}/settle/", {"received_minor": 400_000}), 200)
    assert parcel["state"] == "settled"
    made(day.packer.post(f"{address}/corrections/", {"amount_minor": 3000, "note": "toll"}), 200)
    balances = made(day.packer("statements/"), 200)["results"]
    assert sum(row["balance_minor"] for row in balances) == parcel["cost_minor"] + 3000 - 400_000
    for who in MASSES:
        kinds = [one["kind"] for one in made(getattr(day, who)("statement/"), 200)["entries"]]
        assert sorted(kinds) == ["correction", "proceeds", "share"]


def test_a_parcel_that_did_not_leave_is_called_off_and_nobody_owes_its_bill(day, clock, shared):
    address = f"parcels/{shared['id']}"
    clock.at(CLOSES_AT)
    bill = closed(day, shared)["cost_minor"]
    clock.later(days=1)
    assert made(day.anna(f"{address}/"), 200)["cartons"][0]["reason"]["code"] == "stands_too_long"
    parcel = made(day.packer.post(f"{address}/call-off/", {"note": "The minibus did not come."}), 200)
    assert parcel["called_off"] == {"at": "2026-03-03T15:20:00+02:00", "note": "The minibus did not come."}
    assert [parcel[name] for name in ("state", "cost_minor", "cost_per_kg_minor")] == ["called_off", 0, None]
    # It travels no more, so nothing is told of how safe that is.
    assert {carton["safe"] for carton in parcel["cartons"]} == {None}
    for who, mass_kg in MASSES.items():
        ask = getattr(day, who)
        nothing = {"mass_kg": mass_kg, "share_minor": 0, "alone_minor": None}
        assert made(ask(f"{address}/"), 200)["mine"] == nothing
        account = made(ask("statement/"), 200)
        assert account["balance_minor"] == 0
        assert [one["kind"] for one in account["entries"]] == ["correction", "share"]
        [lot] = made(ask("lots/", state="called_off"), 200)["results"]
        assert [(one["id"], one["state"]) for one in lot["parcels"]] == [(shared["id"], "called_off")]
    split = made(day.packer(f"{address}/split/"), 200)
    assert (split["state"], split["bill_minor"], split["final"]) == ("called_off", bill, True)
    [listed] = made(day.packer("parcels/", state="called_off"), 200)["results"]
    assert listed == made(day.packer(f"{address}/"), 200)

    made(day.packer.post(f"{address}/corrections/", {"amount_minor": 3000, "note": "shavings"}), 200)
    assert made(day.packer(f"{address}/"), 200)["cost_minor"] == 3000
    assert sum(row["balance_minor"] for row in made(day.packer("statements/"), 200)["results"]) == 3000
