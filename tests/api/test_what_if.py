"""A fare or a surcharge that is tried: coming departures move, and nothing is written."""

import pytest

from api.what_if import WhatIfOut
from coop.models import Tariff
from tests.api.dated_scene import TODAY, TOMORROW, WEEK, clock, refused_fields, shore
from tests.api.test_openapi import differences
from tests.factories.scene import another_vehicle, fares

__all__ = ["clock", "shore"]


@pytest.fixture
def body(shore):
    fish = {"species": shore.species.code, "mass_kg": 60}
    return {"valid_from": TODAY, "route": "south", "buyer": "market", **fish, "last_day": TOMORROW}


def tried(shore, body):
    status, answer = shore.ask.post("what-if/", body)
    assert (status, differences(WhatIfOut(), answer)) == (200, [])
    return answer["departures"]


def fare(shore, amount, **more):
    rules = [{"kind": "per_carton", "amount_minor": amount}]
    return {"carrier": shore.carrier.pk, "route": "south", "rules": rules, **more}


def rise(row):
    return row["after_minor_per_kg"] - row["before_minor_per_kg"]


def test_a_fare_that_is_tried_moves_departures_from_its_day_on_and_is_not_written(shore, body):
    rows = tried(shore, {**body, "tariffs": [fare(shore, 36_000)]})
    # 6 000 more for a carton of 60 kg are 100 a kilogram.
    assert [(row["departs_at"][:10], rise(row)) for row in rows] == [(TODAY, 100), (TOMORROW, 100)]
    assert rows[0]["id"] == f"{shore.timetable.pk}-20260302-common"
    later = tried(shore, {**body, "valid_from": TOMORROW, "tariffs": [fare(shore, 36_000)]})
    assert [(row["departs_at"][:10], rise(row)) for row in later] == [(TOMORROW, 100)]
    assert Tariff.objects.get().rules.get().amount_minor == 30_000


def test_a_surcharge_lies_on_every_fare(shore, body):
    other = another_vehicle(shore, 18)
    fares(shore.cooperative, other.carrier, shore.route, amount_minor=12_000)
    rows = tried(shore, {**body, "last_day": TODAY, "surcharge_share": 0.1})
    # A tenth of 30 000 and of 12 000, over 60 kg.
    assert [rise(row) for row in rows] == [50, 20]
    both = tried(shore, {**body, "last_day": TODAY, "surcharge_share": 0.1, "tariffs": [fare(shore, 36_000)]})
    assert [rise(row) for row in both] == [160, 20]


def test_a_trial_ends_where_a_fare_that_is_stored_begins(shore, body):
    assert shore.ask.post("tariffs/", {**fare(shore, 42_000), "valid_from": TOMORROW})[0] == 201
    rows = tried(shore, {**body, "tariffs": [fare(shore, 36_000)]})
    assert [rise(row) for row in rows] == [100, 0]
    replaced = tried(shore, {**body, "valid_from": TOMORROW, "tariffs": [fare(shore, 48_000)]})
    assert [rise(row) for row in replaced] == [100]


def test_steps_are_tried_in_their_order(shore, body):
    steps = [{"from_kg": 50, "amount_minor": 24_000}, {"from_kg": 0, "amount_minor": 1}]
    stepped = fare(shore, 0) | {"rules": [{"kind": "by_step", "steps": steps}]}
    assert [rise(row) for row in tried(shore, {**body, "last_day": TODAY, "tariffs": [stepped]})] == [-100]


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"valid_from": "2026-03-01"}, "valid_from"),
        ({"last_day": "2026-03-01"}, "last_day"),
        ({"last_day": "2026-04-20"}, "last_day"),
        ({"surcharge_share": -1}, "surcharge_share"),
        ({"route": "north"}, "route"),
        ({"buyer": "nobody"}, "buyer"),
        ({"species": "XYZ"}, "species"),
    ],
)
def test_what_cannot_be_tried_is_named(shore, body, wrong, field):
    assert refused_fields(shore.ask.post("what-if/", {**body, **wrong})) == [field]


def test_a_rule_that_cannot_be_and_two_fares_for_one_way_are_refused(shore, body):
    empty = fare(shore, 0) | {"rules": [{"kind": "by_step"}]}
    assert refused_fields(shore.ask.post("what-if/", {**body, "tariffs": [empty]})) == ["rules.0.steps"]
    twice = [fare(shore, 1), fare(shore, 2)]
    assert refused_fields(shore.ask.post("what-if/", {**body, "tariffs": twice})) == ["tariffs.1.carrier"]
    assert WEEK
