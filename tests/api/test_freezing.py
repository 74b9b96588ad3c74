import pytest

from api.freezing import FreezingOut
from tests.api.asked import fields_of, of_freezing
from tests.api.test_openapi import differences
from tests.factories.freezers import FreezerFactory


@pytest.fixture
def chest(ours):
    return FreezerFactory(cooperative=ours, slug="chest", name="Chest", air_temperature_c=-25)


@pytest.fixture
def freezing(ask, ours_trading, chest):
    """Asks when fish is frozen; answers with the whole body of a good answer."""

    def get(**changes):
        status, answer = ask("freezing/", **of_freezing(ours_trading, **changes))
        assert status == 200, answer
        return answer

    get.trade = ours_trading
    return get


def test_an_answer_has_exactly_what_is_described(freezing):
    assert differences(FreezingOut(), freezing()) == []
    late = freezing(closes_at="2026-03-01T09:00:00+02:00")
    assert differences(FreezingOut(), late) == []


def test_what_is_not_said_is_filled_in_and_told(freezing):
    asked = {"shape": "slab", "width_cm": None, "length_cm": None, "closes_at": None}
    assert freezing(**asked)["question"] == {
        "freezer": "chest",
        "species": freezing.trade.species.code,
        "mass_kg": 20.0,
        "besides_kg": 0.0,
        "shape": "slab",
        "thickness_cm": 5.0,
        "width_cm": None,
        "length_cm": None,
        "warm_temperature_c": 24.0,
        "core_c": -18.0,
        "put_in_at": "2026-03-01T06:00:00+02:00",
        "closes_at": None,
    }


def test_fish_that_is_ready_in_time_says_how_cold_it_is(freezing):
    found = freezing()
    assert found["reason"] is None
    assert found["ready_at_best"] <= found["ready_at"] <= found["question"]["closes_at"]
    assert -25 <= found["core_at_closing_c"] <= -18
    assert found["cost_minor"] > 0


def test_fish_that_is_packed_too_soon_says_when_it_would_be_ready(freezing):
    reason = freezing(closes_at="2026-03-01T09:00:00+02:00")["reason"]
    assert reason["code"] == "not_frozen_by_closing"
    assert reason["values"]["core_at_closing_c"] is None
    assert "not surely frozen through" in reason["words"]


def test_fish_that_is_nearly_ready_says_how_warm_it_may_still_be(freezing):
    at_minus_15 = freezing(core_c="-15")["ready_at"]
    reason = freezing(core_c="-20", closes_at=at_minus_15)["reason"]
    assert -16 < reason["values"]["core_at_closing_c"] <= -15
    assert reason["words"].startswith("When the carton is closed the fish may still be at -15")
    assert reason["words"].endswith("in its middle; it is at -20 °C by " + reason_hour(reason) + ".")


def reason_hour(reason):
    day, hour = reason["values"]["ready_at"][:16].split("T")
    return f"{day} {hour}"


def test_a_freezer_that_is_too_warm_for_what_is_wanted_says_so(freezing):
    found = freezing(core_c="-25")
    assert (found["ready_at"], found["energy_kwh"], found["cost_minor"]) == (None, None, None)
    assert found["reason"]["code"] == "freezer_too_warm"
    assert found["reason"]["words"] == "The air in it is -25 °C: fish never comes down to -25 °C there."


BAD = [
    ({"freezer": "fridge"}, "freezer", "fridge"),
    ({"freezer": None}, "freezer", None),
    ({"species": "QQQ"}, "species", "QQQ"),
    ({"mass_kg": "0"}, "mass_kg", "0"),
    ({"mass_kg": "nan"}, "mass_kg", "nan"),
    ({"mass_kg": "260"}, "mass_kg", "260.0"),
    ({"besides_kg": "-1"}, "besides_kg", "-1"),
    ({"besides_kg": "240"}, "besides_kg", "240.0"),
    ({"shape": "heap"}, "shape", "heap"),
    ({"shape": None}, "shape", None),
    ({"thickness_cm": "0"}, "thickness_cm", "0"),
    ({"thickness_cm": "inf"}, "thickness_cm", "inf"),
    ({"thickness_cm": "10"}, "width_cm", "9.0"),
    ({"length_cm": "8"}, "length_cm", "8.0"),
    ({"width_cm": None}, "length_cm", "35.0"),
    ({"shape": "slab"}, "width_cm", "9.0"),
    ({"shape": "cylinder"}, "width_cm", "9.0"),
    ({"shape": "cylinder", "width_cm": None, "length_cm": "4"}, "length_cm", "4.0"),
    ({"warm_temperature_c": "31"}, "warm_temperature_c", "31"),
    ({"warm_temperature_c": "-5"}, "warm_temperature_c", "-5"),
    ({"core_c": "-5"}, "core_c", "-5"),
    ({"put_in_at": "2026-03-01T06:00:00"}, "put_in_at", "2026-03-01T06:00:00"),
    ({"put_in_at": None}, "put_in_at", None),
    ({"closes_at": "2026-03-01T05:00:00+02:00"}, "closes_at", "2026-03-01T03:00:00+00:00"),
    ({"closes_at": "2027-03-01T05:00:00+02:00"}, "closes_at", "2027-03-01T03:00:00+00:00"),
    ({"weight": "20"}, "weight", "20"),
]


@pytest.mark.parametrize(("changes", "field", "value"), BAD, ids=lambda part: str(part)[:60])
def test_what_cannot_be_answered_is_refused_by_its_field_and_value(
    ask, ours_trading, chest, changes, field, value
):
    status, answer = ask("freezing/", **of_freezing(ours_trading, **changes))
    assert status == 400, answer
    assert (field, value) in [(name, found and str(found)) for name, found in fields_of(answer)]
    assert all(one["right"] for one in answer["error"]["fields"])


def test_a_freezer_of_strangers_does_not_exist(ask, ours_trading, theirs):
    FreezerFactory(cooperative=theirs, slug="chest")
    status, answer = ask("freezing/", **of_freezing(ours_trading))
    assert status == 400
    assert fields_of(answer) == [("freezer", "chest")]


def test_a_freezer_that_freezes_no_fish_is_named(ask, ours_trading, chest):
    chest.air_temperature_c = -10
    chest.save()
    status, answer = ask("freezing/", **of_freezing(ours_trading))
    assert status == 400
    assert fields_of(answer) == [("freezer", "chest")]
