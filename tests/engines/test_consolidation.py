import math
import time

import pytest

from coop.engines import consolidation_search
from coop.engines.consolidation import Lot, _rounding
from coop.engines.consolidation_day import reduced
from tests.engines.consolidation_cases import (
    HOUR,
    U120,
    Day,
    an_offer,
    billed,
    bin_packing,
    breaches,
    least_cost,
    small_day,
)
from tests.engines.consolidation_parts import day_of_parts, least_cost_in_parts
from tests.engines.consolidation_planning import planning_day


def worth_by_key(day):
    """What leaving a kilogram behind counts as, and how far roundings reach."""
    whole = reduced(day.lots, day.offers, places=day.places, may_not_share=day.may_not_share)
    worth = {day.lots[n].key: whole.worth[row] for row, group in enumerate(whole.classes) for n in group}
    return worth, _rounding(whole)


def one_day(*masses, offer=None, places=5, **lots):
    """Lots of these kg and one offer."""
    rows = [Lot(key=number, mass=mass, **lots) for number, mass in enumerate(masses)]
    return Day(rows, [an_offer(rows, **(offer or {}))], {"d": places})


def test_the_sizes_of_u120_00_are_those_of_the_library():
    # Martello & Toth's bound, the sum over the capacity: 48 (reference, section 9; OR-Library gives best 48).
    assert (len(U120), math.ceil(sum(U120) / 150)) == (120, 48)


def test_u120_00_is_packed_into_48_and_proven():
    # Beasley 1990, OR-Library, binpack1: best known 48. First fit decreasing needs 49, as the reference says.
    day = bin_packing()
    found = day.plan(clock=time.monotonic)
    assert (found.cost, found.bound, len(found.cartons)) == (48, 48, 48)
    assert breaches(day, found) == []


@pytest.mark.parametrize("first", range(0, 200, 20))
def test_no_plan_of_a_small_day_costs_less_than_the_one_found(first):
    for seed in range(first, first + 20):
        day = small_day(seed)
        found, (worth, rounding) = day.plan(), worth_by_key(day)
        best = least_cost(day, worth)
        assert best <= found.cost <= best + rounding, seed
        assert found.bound <= best, seed


@pytest.mark.parametrize("first", range(0, 40, 10))
def test_no_plan_in_parts_costs_less_than_the_one_found(first):
    for seed in range(first, first + 10):
        day = day_of_parts(seed)
        found, (worth, rounding) = day.plan(), worth_by_key(day)
        best = least_cost_in_parts(day, worth)
        assert best - rounding <= found.cost <= best + rounding, seed
        assert found.bound <= best, seed


def test_where_volume_binds_no_plan_in_whole_units_costs_less():
    # Here the best parts need not be whole units, so the plan may cost less than every one of these.
    for seed in range(15):
        day = day_of_parts(seed, litres_a_unit=(6, 9, 14))
        found, (worth, rounding) = day.plan(), worth_by_key(day)
        best = least_cost_in_parts(day, worth)
        assert found.bound <= found.cost <= best + rounding, seed
        assert found.bound <= best, seed
        assert breaches(day, found) == [], seed


@pytest.mark.parametrize("first", range(200, 260, 20))
def test_every_plan_keeps_every_rule_and_its_bill_is_the_true_tariff(first):
    for seed in range(first, first + 20):
        for day in (small_day(seed), day_of_parts(seed)):
            found = day.plan()
            assert breaches(day, found) == [], seed
            assert found.bill == billed(day, found), seed


@pytest.mark.parametrize("first", [300, 315, 330])
def test_where_the_contents_are_too_many_to_list_bound_and_plan_still_enclose_the_best(first, monkeypatch):
    # Relaxation, outlines and annealing alone, as on a large day.
    monkeypatch.setattr(consolidation_search, "MANY", 0)
    for seed in range(first, first + 15):
        for day, looked_at in ((small_day(seed), least_cost), (day_of_parts(seed), least_cost_in_parts)):
            found, (worth, rounding) = day.plan(), worth_by_key(day)
            best = looked_at(day, worth)
            assert found.bound <= best <= found.cost + rounding, seed
            assert breaches(day, found) == [], seed


def test_a_day_with_twenty_lots_keeps_every_rule_and_says_how_good_it_is():
    day = planning_day(5, lots=20, departures=6)
    found = day.plan(gap=0.02, clock=time.monotonic, time_limit=5)
    assert breaches(day, found) == []
    assert found.bill == billed(day, found)
    assert 0 <= found.bound <= found.cost
    assert found.gap == pytest.approx((found.cost - found.bound) / found.bill)


def test_a_day_without_lots_or_offers_has_an_empty_plan():
    assert Day([], [], {}).plan()[:5] == ((), 0, 0, 0, 0.0)
    alone = Day([Lot(key="a", mass=5)], [], {}).plan()
    assert alone.cartons == ()
    assert alone.left_behind["a"].code == "no_departure"


def test_a_carton_may_be_full_to_the_gram():
    # 0.1 + 0.2 is more than 0.3 in binary fractions.
    exact = one_day(0.1, 0.2, offer={"capacity": 0.3}).plan()
    assert len(exact.cartons) == 1
    assert exact.left_behind == {}
    over = one_day(0.1, 0.201, offer={"capacity": 0.3}).plan()
    assert len(over.cartons) == 2


def test_two_lots_of_one_owner_and_lots_alike_all_travel():
    found = one_day(*[30] * 9).plan()
    assert sorted(key for carton in found.cartons for key, _ in carton.parts) == [*range(9)]
    assert len(found.cartons) == 3


def test_no_places_means_that_all_stay():
    found = one_day(30, 40, places=0).plan()
    assert (found.cartons, found.cost) == ((), 0)
    assert {left.code for left in found.left_behind.values()} == {"no_room"}


def test_only_who_allows_it_is_split():
    whole = one_day(60, 60, 60, places=2).plan()
    assert len(whole.left_behind) == 1
    split = one_day(60, 60, 60, places=2, may_split=True).plan()
    assert split.left_behind == {}
    assert sum(len(carton.parts) for carton in split.cartons) == 4


def test_no_part_is_smaller_than_its_owner_allows():
    lots = [Lot(key="a", mass=90), Lot(key="b", mass=100, may_split=True, least_part=15)]
    found = Day(lots, [an_offer(lots)], {"d": 3}).plan()
    parts = [mass for carton in found.cartons for key, mass in carton.parts if key == "b"]
    assert parts == [100]


def test_a_lot_travels_with_the_cheapest_departure_that_it_is_ready_for():
    lots = [Lot(key="early", mass=20), Lot(key="late", mass=20, ready_at=20 * HOUR)]
    offers = [
        an_offer(lots, "cheap", departure="morning", carton_cost=500),
        an_offer(
            lots, "dear", departure="night", closes_at=21 * HOUR, leaves_at=22 * HOUR, hands_over_by=50 * HOUR
        ),
    ]
    found = Day(lots, offers, {"morning": 1, "night": 1}).plan()
    # Both fit the later carton, and one carton costs less than two.
    assert [(carton.offer, len(carton.parts)) for carton in found.cartons] == [("dear", 2)]


def test_the_same_day_gives_the_same_plan():
    for seed in (7, 31, 58):
        assert small_day(seed).plan() == small_day(seed).plan()


def test_time_that_is_up_still_gives_a_plan_with_a_true_gap():
    day = bin_packing()
    ticks = iter(range(10**6))
    found = day.plan(clock=lambda: float(next(ticks)), time_limit=5)
    assert breaches(day, found) == []
    assert found.bound <= 48 <= found.cost
    assert found.gap == pytest.approx((found.cost - found.bound) / found.bill)


@pytest.mark.parametrize(
    ("given", "named"),
    [
        ({"time_limit": math.nan}, "time_limit"),
        ({"time_limit": -1}, "time_limit"),
        ({"gap": 2}, "gap"),
        ({"gap": True}, "gap"),
    ],
)
def test_limits_that_cannot_be_are_refused(given, named):
    with pytest.raises(ValueError, match=named):
        one_day(5).plan(**given)
