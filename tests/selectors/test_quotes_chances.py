"""How full a carton of a quote may be: judged at even fillings, and never counted on beyond them."""

from dataclasses import replace

import pytest

from coop.errors import NotSafe
from coop.selectors.parcel_judgement import ParcelJudge
from coop.selectors.parcels import capacity_kg
from coop.selectors.quotes_chances import FILLINGS, safety_of
from coop.selectors.quotes_figures import fish_of
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.parcels import parcel_of
from tests.factories.quotes import SupplyFactory
from tests.factories.scene import trade
from tests.services.packing_day import LONG_LEG

pytestmark = pytest.mark.django_db


def scene(temperature=-20.0, **options):
    day = trade(CooperativeFactory(), **options)
    supply = SupplyFactory(cooperative=day.cooperative, species=day.species, start_temperature_c=temperature)
    return parcel_of(day), fish_of(supply, None)


def test_the_fullest_that_is_needed_is_judged_and_everything_below_until_one_does_not_hold():
    parcel, fish = scene(leg=LONG_LEG)
    fits = capacity_kg(parcel.design)
    safety = safety_of(parcel, fish, fits)
    masses = [one.fill.mass_kg for one in safety.judged]
    assert masses == sorted(masses)
    assert safety.most_kg == fits
    assert all(one.is_safe for one in safety.judged)
    below = ParcelJudge([parcel]).judged(parcel, fish_with(fish, safety.least_kg - fits / FILLINGS / 2))
    assert not below.is_safe


def fish_with(fish, mass_kg):
    return replace(fish, mass_kg=round(mass_kg, 3))


def test_what_needs_no_full_carton_is_judged_up_to_the_next_filling_only():
    parcel, fish = scene()
    safety = safety_of(parcel, fish, 30.0)
    assert 30.0 <= safety.most_kg < 30.0 + capacity_kg(parcel.design) / FILLINGS


def test_between_two_fillings_the_worse_counts():
    parcel, fish = scene(leg=LONG_LEG)
    safety = safety_of(parcel, fish, capacity_kg(parcel.design))
    first, second = safety.judged[:2]
    between = (first.fill.mass_kg + second.fill.mass_kg) / 2
    chance, softened = safety.around(between)
    assert chance == min(first.chance_hard, second.chance_hard)
    assert softened == max(one.departure.judgement.expected_softened_share for one in (first, second))
    assert safety.around(second.fill.mass_kg)[0] == second.chance_hard


def test_nothing_outside_of_what_was_judged_holds():
    parcel, fish = scene(leg=LONG_LEG)
    safety = safety_of(parcel, fish, 60.0)
    assert not safety.holds(safety.least_kg - 0.001)
    assert not safety.holds(safety.most_kg + 0.001)
    assert safety.latest_safe_departure_at <= min(one.latest_safe_departure_at for one in safety.judged)


def test_fish_that_no_carton_holds_is_refused_with_the_reason():
    parcel, fish = scene(temperature=-4.0, leg=LONG_LEG)
    with pytest.raises(NotSafe, match="may not hold") as refusal:
        safety_of(parcel, fish, capacity_kg(parcel.design))
    assert refusal.value.judged.reason == "hold_too_short"
