import pytest

from tests.api.dated_scene import TODAY, TOMORROW, WEEK, clock, refused_fields, shore

__all__ = ["clock", "shore"]
STEPPED = {"kind": "by_step", "steps": [{"from_kg": 0, "amount_minor": 9000}]}


@pytest.fixture
def body(shore):
    return {"carrier": shore.carrier.pk, "route": "south", "valid_from": TOMORROW, "rules": [STEPPED]}


def fares(shore, **query):
    return shore.ask("tariffs/", **query)[1]["results"]


def test_a_fare_of_tomorrow_is_stored_and_today_stays(shore, body):
    status, made = shore.ask.post("tariffs/", body)
    assert status == 201
    assert (made["valid_from"], made["confirmed_on"]) == (TOMORROW, TODAY)
    [rule] = made["rules"]
    assert (rule["kind"], rule["steps"]) == ("by_step", [{"from_kg": 0.0, "amount_minor": 9000}])
    [today], [tomorrow] = (fares(shore, on=day) for day in (TODAY, TOMORROW))
    assert (today["id"], today["valid_until"]) == (shore.tariff.pk, TOMORROW)
    assert tomorrow == made


def test_what_cannot_be_is_named_by_its_place(shore, body):
    per_seat = {"kind": "per_seat", "amount_minor": 5}
    wrong = {**body, "rules": [STEPPED, {"kind": "by_weight"}, {**STEPPED, "steps": [{"from_kg": -1}]}]}
    assert set(refused_fields(shore.ask.post("tariffs/", wrong))) == {
        "rules.1.kind",
        "rules.2.steps.0.from_kg",
        "rules.2.steps.0.amount_minor",
    }
    assert refused_fields(shore.ask.post("tariffs/", {**body, "rules": [per_seat]})) == ["rules.0.__all__"]
    for field, value in (("carrier", 10**6), ("route", "north"), ("valid_from", "2026-03-01"), ("rules", [])):
        assert refused_fields(shore.ask.post("tariffs/", {**body, field: value})) == [field]
    assert len(fares(shore)) == 1


def test_a_fare_is_confirmed_ended_and_withdrawn(shore, body):
    coming = shore.ask.post("tariffs/", body)[1]["id"]
    assert shore.ask.post(f"tariffs/{coming}/withdraw/", {"note": "a rumour"}) == (204, None)
    own = f"tariffs/{shore.tariff.pk}"
    assert shore.ask.post(f"{own}/confirm/")[1]["confirmed_on"] == TODAY
    assert shore.ask.post(f"{own}/end/", {"valid_until": WEEK})[1]["valid_until"] == WEEK
    assert refused_fields(shore.ask.post(f"{own}/withdraw/"), 409) == ["valid_from"]
    assert refused_fields(shore.ask.post(f"{own}/end/", {})) == ["valid_until"]
    assert refused_fields(shore.ask.post(f"{own}/confirm/", {"note": "x"})) == ["note"]
    assert fares(shore, on=WEEK) == []
