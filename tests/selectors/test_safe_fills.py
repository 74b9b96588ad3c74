"""Safe here is safe on the page of departures, and what was judged once is not judged again."""

from dataclasses import replace

import pytest
from django.core.cache import cache

from coop.engines.carton import capacity
from coop.selectors.departure_slots import rows_of
from coop.selectors.departures import departures_for
from coop.selectors.engine_inputs import carton_of
from coop.selectors.safe_fills import NEVER, SafeFills, safe_fills
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.scene import thin_carton, trade
from tests.factories.species import SpeciesFactory
from tests.selectors.asking import question

pytestmark = pytest.mark.django_db

MASSES = (12.0, 30.0, 45.0, 75.0, 100.0)


@pytest.fixture
def shore():
    """Ten hours of road: common cartons stay hard when they are full enough, thin ones do not."""
    found = trade(CooperativeFactory(), leg={"distance_km": 500, "hours_mean": 9.0, "hours_floor": 7.0})
    thin_carton(found.cooperative)
    return found


def fills_of(asked, *species):
    return safe_fills(asked, rows_of(asked), species or (asked.species,))


def judged(monkeypatch):
    """Every carton that is followed from here on, as (mass, species)."""
    seen, follow = [], SafeFills._judge

    def judge(self, departure, packed, design, species):
        seen.append((packed.load.mass, species.code))
        return follow(self, departure, packed, design, species)

    monkeypatch.setattr(SafeFills, "_judge", judge)
    return seen


def test_a_carton_is_safe_where_the_page_of_departures_says_so(shore):
    asked = question(shore)
    for mass in MASSES:
        page = departures_for(replace(asked, mass_kg=mass))
        fills = fills_of(asked)
        for found in page:
            if found.cartons == 1:
                departure = fills.departure_at(found.slot.timetable, found.slot.departs_at)
                assert fills.is_safe(departure, found.design, mass) == found.is_safe


def test_the_least_that_is_safe_is_the_first_safe_one_of_those_asked_for(shore):
    asked = question(shore)
    fills = fills_of(asked)
    [departure] = fills.departures
    for design in asked.designs:
        fits = [mass for mass in MASSES if mass <= capacity(carton_of(design))]
        safe = [mass for mass in fits if fills_of(asked).is_safe(departure, design, mass)]
        least = fills.safe_from(departure, design, fits)
        assert least == min(safe, default=NEVER)
    assert fills.safe_from(departure, shore.design, ()) == NEVER


def test_what_a_lighter_carton_told_is_not_judged_again(shore, monkeypatch):
    cache.clear()
    asked = question(shore, days=5)
    fills, seen = fills_of(asked), judged(monkeypatch)
    monday, tuesday, *_ = fills.departures
    assert fills.is_safe(monday, shore.design, 75.0)
    assert fills.is_safe(monday, shore.design, 100.0)
    # Tuesday meets the same hours and the same weather.
    assert fills.is_safe(tuesday, shore.design, 75.0)
    assert len(seen) == 1
    assert fills_of(asked).is_safe(monday, shore.design, 75.0)
    assert len(seen) == 1


def test_too_little_or_too_much_for_a_carton_is_not_safe_and_not_followed(shore, monkeypatch):
    seen, fills = judged(monkeypatch), fills_of(question(shore))
    [departure] = fills.departures
    assert not fills.is_safe(departure, shore.design, 1.0)
    assert not fills.is_safe(departure, shore.design, 101.0)
    assert seen == []


def test_every_species_in_it_must_stay_hard(shore, monkeypatch):
    cache.clear()
    other = SpeciesFactory(code="LTM", freezing_point_c=-2.0)
    seen, fills = judged(monkeypatch), fills_of(question(shore), shore.species, other)
    [departure] = fills.departures
    fills.is_safe(departure, shore.design, 100.0)
    assert {code for _, code in seen} == {shore.species.code, "LTM"}


def test_other_fish_shares_the_departures_and_is_judged_by_itself(shore):
    fills = fills_of(question(shore))
    same = {"species": (shore.species,), "deliver_by": None}
    assert fills.for_fish(**same, start_temperature_c=-18.0) is fills
    warm = fills.for_fish(**same, start_temperature_c=-4.0)
    assert warm is fills.for_fish(**same, start_temperature_c=-4.0)
    [departure] = fills.departures
    assert fills.is_safe(departure, shore.design, 100.0)
    assert not warm.is_safe(departure, shore.design, 100.0)


def test_fish_that_would_arrive_after_its_deadline_is_not_safe(shore):
    fills = fills_of(question(shore))
    [departure] = fills.departures
    late = fills.for_fish(
        species=(shore.species,), start_temperature_c=-18.0, deliver_by=departure.slot.departs_at
    )
    [hurried] = late.departures
    assert not late.is_safe(hurried, shore.design, 100.0)


def test_a_departure_that_is_no_longer_in_the_timetable_is_none(shore):
    fills = fills_of(question(shore))
    [departure] = fills.departures
    assert fills.departure_at(shore.timetable, departure.slot.departs_at) is departure
    assert fills.departure_at(shore.timetable, departure.slot.closes_at) is None
