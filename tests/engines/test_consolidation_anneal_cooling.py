import numpy as np
import pytest

from coop.engines import consolidation_anneal_kernel as kernel
from coop.engines.consolidation_anneal_cooling import anneal
from tests.engines.consolidation_annealed import Annealed, some_days
from tests.engines.consolidation_planning import planning_day
from tests.engines.consolidation_walk import Walk

DEARTH = 10.0


def cooled(walk, *, moves, warm, cool):
    """Runs; what the cost now and the least cost seen have become, and where that lay."""
    state = walk.state
    best = state.amount.copy(), state.cartons[:, kernel.OFFER].copy()
    hidden = float(state.lots[:, kernel.STAYS] @ state.worth[:, 1])
    sums = np.array([hidden, lacking(walk), 0.0, np.inf])
    heat = np.array([moves, warm, cool, DEARTH, walk.is_framed], float)
    anneal(walk.luck, state, walk.fares, best, walk.moves, sums, heat)
    return sums, best


def lacking(walk):
    state = walk.state
    return float(
        sum(kernel.missing(state.cartons, state.offers, carton) for carton in range(len(state.cartons)))
    )


def whole_cost(walk):
    """With what is missing to stay hard."""
    return walk.fares_paid() + DEARTH * lacking(walk)


@pytest.mark.parametrize("first", [0, 12])
def test_the_cost_that_is_carried_along_is_that_of_where_it_ends(first):
    for found in [*some_days(first, first + 12), Annealed(planning_day(first, lots=25, departures=8))]:
        walk = Walk(found, seed=first + 3)
        before = whole_cost(walk)
        sums, _ = cooled(walk, moves=3000, warm=3000.0, cool=30.0)
        assert walk.unsound() == []
        assert whole_cost(walk) - before == pytest.approx(sums[2], abs=1e-3)
        hidden = float(walk.state.lots[:, kernel.STAYS] @ walk.state.worth[:, 1])
        assert sums[kernel.TRUE_LEFT] == pytest.approx(hidden, abs=1e-3)
        assert sums[kernel.SHORT] == lacking(walk)


def test_the_least_cost_seen_is_that_of_the_plan_that_is_kept():
    days = [Annealed(planning_day(seed, lots=25, departures=8)) for seed in range(12)]
    for number, found in enumerate([*some_days(30, 40), *days]):
        walk = Walk(found, seed=number + 1)
        before = whole_cost(walk)
        sums, (amount, offer) = cooled(walk, moves=5000, warm=5000.0, cool=50.0)
        if not np.isfinite(sums[3]):
            continue
        loads = [
            (amount[offer == each].any(axis=1).sum(), amount[offer == each].sum())
            for each in range(len(found.day.offers))
        ]
        stays = walk.state.lots[:, kernel.STAYS] + walk.state.amount.sum(axis=0) - amount.sum(axis=0)
        cost = sum(kernel.fare_of(walk.fares, each, *load) for each, load in enumerate(loads))
        cost += float(stays @ walk.state.worth.sum(axis=1))
        assert cost - before == pytest.approx(sums[3], abs=2e-3)
        assert all(
            mass >= found.day.rooms[each].least
            for mass, each in zip(amount.sum(axis=1), offer, strict=True)
            if mass
        )


def test_without_heat_no_move_that_costs_is_kept():
    found = Annealed(planning_day(2, lots=25, departures=8))
    walk = Walk(found)
    ends = []
    for _ in range(20):
        sums, _ = cooled(walk, moves=200, warm=1e-9, cool=1e-9)
        ends.append(sums[2])
    assert max(ends) <= 1e-6
    assert sum(ends) < 0


def test_with_much_heat_moves_that_cost_are_kept():
    walk = Walk(Annealed(planning_day(2, lots=25, departures=8)))
    sums, _ = cooled(walk, moves=5000, warm=1e9, cool=1e9)
    assert sums[2] > 0
    assert sums[3] <= sums[2] + sums[kernel.TRUE_LEFT]
