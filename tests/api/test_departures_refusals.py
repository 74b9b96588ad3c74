"""Everything that departures refuse: each by the field, the value, and what would be right."""

import pytest

from tests.api.asked import DAY, fields_of, of_list
from tests.factories.buyers import BuyerFactory
from tests.factories.carriers import CarrierFactory
from tests.factories.cartons import CartonDesignFactory
from tests.factories.places import DayWeatherFactory
from tests.factories.scene import common_carton
from tests.factories.species import SpeciesFactory
from tests.factories.timetables import TimetableFactory

BAD = [
    ({"route": "nowhere"}, "route", "nowhere"),
    ({"route": None}, "route", None),
    ({"route": "a b"}, "route", "a b"),
    ({"species": "QQQ"}, "species", "QQQ"),
    ({"species": None}, "species", None),
    ({"species": "\x00"}, "species", "\x00"),
    ({"mass_kg": None}, "mass_kg", None),
    ({"mass_kg": ""}, "mass_kg", ""),
    ({"mass_kg": "-5"}, "mass_kg", "-5"),
    ({"mass_kg": "0"}, "mass_kg", "0"),
    ({"mass_kg": "nan"}, "mass_kg", "nan"),
    ({"mass_kg": "inf"}, "mass_kg", "inf"),
    ({"mass_kg": "1e400"}, "mass_kg", "1e400"),
    ({"mass_kg": "eighty"}, "mass_kg", "eighty"),
    ({"mass_kg": ["80", "90"]}, "mass_kg", "80, 90"),
    ({"mass_kg": "50000"}, "mass_kg", "50000.0"),
    ({"mass_kg": "1", "carton_design": "common"}, "mass_kg", "1.0"),
    ({"start_temperature_c": "40"}, "start_temperature_c", "40.0"),
    ({"start_temperature_c": "-1.5"}, "start_temperature_c", "-1.5"),
    ({"start_temperature_c": "-41"}, "start_temperature_c", "-41"),
    ({"start_temperature_c": "nan"}, "start_temperature_c", "nan"),
    ({"start_temperature_c": None}, "start_temperature_c", None),
    ({"from": "yesterday"}, "from", "yesterday"),
    ({"from": "2026-02-30"}, "from", "2026-02-30"),
    ({"from": "0001-01-01"}, "from", "0001-01-01"),
    ({"to": "9999-12-31"}, "to", "9999-12-31"),
    ({"to": "2026-03-01"}, "to", "2026-03-01"),
    ({"to": "2026-04-02"}, "to", "2026-04-02"),
    ({"carton_design": "paper-bag"}, "carton_design", "paper-bag"),
    ({"carton_design": ["common", "paper-bag"]}, "carton_design", "paper-bag"),
    ({"buyer": "nobody"}, "buyer", "nobody"),
    ({"buyer": "elsewhere"}, "buyer", "elsewhere"),
    ({"closes_at": "soon"}, "closes_at", "soon"),
    ({"closes_at": "2026-03-02T15:00:00"}, "closes_at", "2026-03-02T15:00:00"),
    ({"closes_at": "1926-03-02T15:00:00Z"}, "closes_at", "1926-03-02T15:00:00Z"),
    ({"closes_at": "2026-03-03T01:00:00+02:00"}, "closes_at", "2026-03-03T01:00:00+02:00"),
    ({"closes_at": "2026-03-02T16:01:00+02:00"}, "closes_at", "2026-03-02T16:01:00+02:00"),
    ({"closes_at": "2026-02-20T16:00:00+02:00"}, "closes_at", "2026-02-20T16:00:00+02:00"),
    ({"deliver_by": "never"}, "deliver_by", "never"),
    ({"deliver_by": "2026-03-01T10:00:00+02:00"}, "deliver_by", "2026-03-01T10:00:00+02:00"),
    (
        {"closes_at": "2026-03-02T12:00:00+02:00", "deliver_by": "2026-03-02T11:00:00+02:00"},
        "deliver_by",
        "2026-03-02T11:00:00+02:00",
    ),
    ({"limit": "hardness:3"}, "limit", "hardness:3"),
    ({"limit": "softened_share"}, "limit", "softened_share"),
    ({"limit": "softened_share:nan"}, "limit", "softened_share:nan"),
    ({"limit": "softened_share:0.9"}, "limit", "softened_share:0.9"),
    ({"limit": "core_c:5"}, "limit", "core_c:5"),
    ({"confidence": "1"}, "confidence", "1"),
    ({"confidence": "0.2"}, "confidence", "0.2"),
    ({"with_fish": "perhaps"}, "with_fish", "perhaps"),
    ({"safe": "perhaps"}, "safe", "perhaps"),
    ({"carrier": "0"}, "carrier", "0"),
    ({"carrier": "1.5"}, "carrier", "1.5"),
    ({"carrier": "9007199254740000"}, "carrier", "9007199254740000"),
    ({"min_chance": "1.1"}, "min_chance", "1.1"),
    ({"max_cost_per_kg": "-1"}, "max_cost_per_kg", "-1"),
    ({"max_cost_per_kg": "12.5"}, "max_cost_per_kg", "12.5"),
    ({"ordering": "weight"}, "ordering", "weight"),
    ({"page": "2"}, "page", "2"),
    ({"page_size": "101"}, "page_size", "101"),
    ({"weight": "80"}, "weight", "80"),
    ({"format": "xml"}, "format", "xml"),
]


def refusal(ask, trade, **changes):
    status, answer = ask("departures/", **of_list(trade, **changes))
    assert status == 400, answer
    assert all(one["right"] for one in answer["error"]["fields"])
    return answer


@pytest.mark.parametrize(("changes", "field", "value"), BAD, ids=lambda part: str(part)[:60])
def test_what_cannot_be_answered_is_refused_by_its_field_and_value(ask, ours_trading, changes, field, value):
    BuyerFactory(cooperative=ours_trading.cooperative, slug="elsewhere")
    assert (field, value) in fields_of(refusal(ask, ours_trading, **changes))


def test_too_much_fish_is_told_how_much_would_fit(ask, ours_trading):
    [one] = refusal(ask, ours_trading, mass_kg="5000")["error"]["fields"]
    assert one["problem"] == "more than fits in 6 cartons"
    # 6 × 0.79 × 0.49 × 0.49 m³ × 530 kg/m³ = 603.17 kg, as the factories have the carton and its vehicle.
    assert one["right"].startswith("5.1 to 603.1 kg in 6 cartons of Common")


def test_what_is_right_is_right(ask, ours_trading):
    for mass in ("5.1", "603.1"):
        status, answer = ask("departures/", **of_list(ours_trading, mass_kg=mass))
        assert (status, answer["count"]) == (200, 1)


def test_soft_fish_is_told_to_be_frozen_first(ask, ours_trading):
    [one] = refusal(ask, ours_trading, start_temperature_c="-2")["error"]["fields"]
    assert "freeze it first" in one["right"]
    # About −2.2 °C for lean fish (Torry Advisory Note 32); this flesh has a little more protein than most.
    limit = float(one["right"].split()[2])
    assert -2.6 < limit < -2.0
    assert ask("departures/", **of_list(ours_trading, start_temperature_c=limit - 0.1))[0] == 200


def test_several_faults_are_told_at_once(ask, ours_trading):
    answer = refusal(ask, ours_trading, mass_kg="nan", confidence="7", weight="3")
    assert {field for field, _ in fields_of(answer)} == {"mass_kg", "confidence", "weight"}


def test_a_route_at_whose_end_nobody_buys_is_refused(ask, ours_trading):
    ours_trading.buyer.delete()
    [one] = refusal(ask, ours_trading)["error"]["fields"]
    assert (one["field"], one["value"]) == ("buyer", None)
    assert ours_trading.route.destination.name in one["problem"]


def test_a_buyer_elsewhere_is_refused_with_those_who_are_there(ask, ours_trading):
    BuyerFactory(cooperative=ours_trading.cooperative, slug="elsewhere")
    [one] = refusal(ask, ours_trading, buyer="elsewhere")["error"]["fields"]
    assert one["right"].startswith("one of market")


@pytest.mark.parametrize("field", ["route", "buyer", "carton_design", "carrier"])
def test_what_belongs_to_strangers_is_as_unknown_as_what_does_not_exist(
    ask, ours_trading, theirs_trading, field
):
    row = {"carton_design": "design"}.get(field, field)
    theirs, key = getattr(theirs_trading, row), "pk" if field == "carrier" else "slug"
    known = refusal(ask, ours_trading, **{field: getattr(theirs, key)})
    unknown = refusal(ask, ours_trading, **{field: 4_000_000 if field == "carrier" else "no-such"})
    assert known["error"]["fields"][0] | {"value": ""} == unknown["error"]["fields"][0] | {"value": ""}


def test_a_carton_that_cannot_be_followed_is_refused_if_it_is_asked_for(ask, ours_trading):
    design = CartonDesignFactory(cooperative=ours_trading.cooperative, slug="bare", insulation_top_m=0.001)
    [one] = refusal(ask, ours_trading, carton_design=design.slug)["error"]["fields"]
    assert (one["field"], one["value"]) == ("carton_design", "bare")
    assert "insulation_top_m" in one["problem"]


def test_a_carton_for_which_no_vehicle_has_places_is_refused_if_it_is_asked_for(ask, ours_trading):
    sizes = {f"outer_{side}_m": 0.4 for side in ("length", "width", "height")}
    common_carton(ours_trading.cooperative, slug="tiny", **sizes)
    [one] = refusal(ask, ours_trading, carton_design="tiny")["error"]["fields"]
    assert one["field"] == "mass_kg"
    assert "6 cartons" in one["problem"]


def test_a_carrier_without_places_for_the_fish_is_refused_if_it_is_asked_for(ask, ours_trading):
    small = CarrierFactory(cooperative=ours_trading.cooperative, carton_places=1)
    TimetableFactory(cooperative=ours_trading.cooperative, carrier=small, route=ours_trading.route)
    [one] = refusal(ask, ours_trading, mass_kg="150", carrier=small.pk)["error"]["fields"]
    assert one["problem"] == "more than fits in one carton"


def test_flesh_that_cannot_be_is_refused_by_its_species(ask, ours_trading):
    odd = SpeciesFactory(water_share=0.3, protein_share=0.65, fat_share=0.03, ash_share=0.02)
    [one] = refusal(ask, ours_trading, species=odd.code)["error"]["fields"]
    assert (one["field"], one["value"]) == ("species", odd.code)


def test_a_place_without_a_climate_is_refused_by_its_name(ask, ours_trading):
    ours_trading.route.origin.climates.all().delete()
    [one] = refusal(ask, ours_trading)["error"]["fields"]
    assert one["field"] == "route"
    assert ours_trading.route.origin.name in one["problem"]


def test_a_route_without_legs_is_refused(ask, ours_trading):
    ours_trading.route.legs.all().delete()
    assert fields_of(refusal(ask, ours_trading)) == [("route", "south")]


def test_weather_in_which_nothing_can_be_followed_is_refused(ask, ours_trading):
    DayWeatherFactory(
        cooperative=ours_trading.cooperative,
        place=ours_trading.route.origin,
        date=DAY,
        temperature_max_c=60,
        temperature_min_c=40,
    )
    [one] = refusal(ask, ours_trading)["error"]["fields"]
    assert one["field"] == "route"
    assert "60 °C" in one["problem"]
