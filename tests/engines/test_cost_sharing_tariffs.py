"""Bills of random tariffs and lots, shared by every rule: money adds up, each rule keeps its promise."""

from collections.abc import Callable
from datetime import date
from typing import NamedTuple

import numpy as np
import pytest

from coop.engines import tariff as tariffs
from coop.engines.coalitions import coalition_costs, players_of, subadditive_cover
from coop.engines.core import core_is_empty, objection
from coop.engines.cost_sharing import by_weight, capped, equal, serial
from coop.engines.costing import Item, cost
from coop.engines.largest_remainder import largest_remainder
from coop.engines.nucleolus import nucleolus
from coop.engines.shapley import shapley
from coop.engines.tariff import Consignment, Step, Tariff, fare

DAY = date(2026, 7, 14)
DAYS = 1000
TARE, CAPACITY = 9, 60


def random_rules(rng):
    """One to three rules of one carrier; steps may make a heavier consignment cheaper."""

    def amount(most):
        return int(rng.integers(1, most))

    def steps(most):
        return (Step(0, amount(most)), Step(40, amount(most)), Step(110, amount(most)))

    kinds = [
        lambda: tariffs.PerCarton(amount=amount(60_000)),
        lambda: tariffs.PerKilogram(amount=amount(900), minimum_charge=amount(40_000)),
        lambda: tariffs.PerKilogram(amount=amount(900), minimum_mass=amount(80)),
        lambda: tariffs.ByStep(steps=steps(90_000)),
        lambda: tariffs.ByStep(steps=steps(900), per_kilogram=True),
        lambda: tariffs.PerVolume(amount=amount(90_000)),
        lambda: tariffs.PerVolumetricKilogram(amount=amount(700)),
        lambda: tariffs.PerSeat(amount=amount(30_000), seats_per_carton=2),
    ]
    chosen = rng.choice(len(kinds), size=rng.integers(1, 4), replace=False)
    surcharge = [tariffs.Surcharge(share=0.15, months=(7,))] if rng.random() < 0.3 else []
    return [kinds[kind]() for kind in chosen] + surcharge


def random_bill(rng):
    """A function from kilograms of fish to what sending them costs, in minor units."""
    carrier = Tariff(rules=random_rules(rng), valid_from=date(2026, 1, 1))
    items = [
        Item(code="material", basis="carton", rate=int(rng.integers(9000))),
        Item(code="papers", basis="consignment", rate=int(rng.integers(5000))),
        Item(code="levy", basis="kilogram", rate=int(rng.integers(60))),
    ]

    def of(mass):
        cartons = -(-mass // CAPACITY)
        sent = Consignment(
            gross_mass=mass + TARE * cartons,
            cartons=cartons,
            outer_length=1,
            outer_width=0.7,
            outer_height=0.7,
        )
        paid = fare(carrier, consignment=sent, on=DAY)
        return cost(mass=mass, cartons=cartons, items=items, fare=paid).total

    return lambda masses: [of(int(mass)) for mass in np.atleast_1d(masses)]


class Day(NamedTuple):
    """The coin in use, kilograms of each lot, what any kilograms cost, costs of all coalitions, two rules."""

    coin: int
    masses: np.ndarray
    bill: Callable
    costs: np.ndarray
    nucleolus: np.ndarray
    core_is_empty: bool


def random_day(rng):
    """Lots of two to five traders, half of the time with coalitions that may also send separately."""
    masses = rng.integers(2, 90, rng.integers(2, 6))
    bill = random_bill(rng)
    costs = coalition_costs(masses, cost=bill)
    costs = subadditive_cover(costs) if rng.random() < 0.5 else costs
    coin = int(rng.choice([1, 5, 10, 50, 100]))
    return Day(coin, masses, bill, costs, nucleolus(costs), core_is_empty(costs))


@pytest.fixture(scope="module")
def days():
    rng = np.random.default_rng(20_261_125)
    return [random_day(rng) for _ in range(DAYS)]


def parts_of(day, shares, at_most=None):
    return largest_remainder(shares, total=int(day.costs[-1]), coin=day.coin, at_most=at_most)


def alone_of(costs):
    return costs[2 ** np.arange(players_of(costs))].astype(int)


RULES = {
    "by weight": lambda day: by_weight(day.masses, bill=day.costs[-1]),
    "equal": lambda day: equal(len(day.masses), bill=day.costs[-1]),
    # What a coalition pays that may send separately is no function of its mass: serial shares are scaled.
    "serial": lambda day: serial(day.masses, cost=day.bill),
    "capped": lambda day: capped(day.masses, bill=day.costs[-1], alone=alone_of(day.costs)).shares,
    "shapley": lambda day: shapley(day.costs),
    "nucleolus": lambda day: day.nucleolus,
}


@pytest.mark.parametrize("rule", RULES)
def test_the_parts_sum_to_the_bill_to_the_coin(days, rule):
    for day in days:
        shares = RULES[rule](day)
        parts, total = parts_of(day, shares), int(day.costs[-1])
        assert sum(parts) == total
        assert sum(part % day.coin != 0 for part in parts) == (total % day.coin != 0)
        scaled = shares * (total / shares.sum())
        assert (np.abs(np.array(parts) - scaled) < day.coin + 1e-6).all()


def test_capped_parts_never_exceed_alone_where_that_is_feasible(days):
    feasible = 0
    for day in days:
        alone = alone_of(day.costs)
        found = capped(day.masses, bill=day.costs[-1], alone=alone)
        assert found.feasible == (day.costs[-1] <= alone.sum())
        if found.feasible:
            feasible += 1
            parts = parts_of(day, found.shares, at_most=alone.tolist())
            assert (np.array(parts) <= alone).all()
            assert sum(parts) == day.costs[-1]
        else:
            assert (found.shares >= alone).all()
    assert 10 < DAYS - feasible < DAYS // 2


def test_the_nucleolus_lies_in_the_core_whenever_that_is_not_empty(days):
    for day in days:
        assert bool(objection(day.costs, day.nucleolus).coalition) == day.core_is_empty
    assert 50 < sum(day.core_is_empty for day in days) < DAYS - 50


def test_by_weight_some_would_rather_leave_though_a_stable_split_exists(days):
    leaving = [
        bool(objection(day.costs, by_weight(day.masses, bill=day.costs[-1])).coalition)
        for day in days
        if not day.core_is_empty
    ]
    assert 50 < sum(leaving) < len(leaving) - 50
