from collections import Counter

import numpy as np
import pytest

from coop.engines import consolidation_anneal_kernel as kernel
from tests.engines.consolidation_annealed import Annealed, some_days
from tests.engines.consolidation_planning import planning_day
from tests.engines.consolidation_walk import Walk


def lawful(walk):
    """Whether every carton of a walk keeps the rules, and no departure is over-full."""
    state = walk.state
    full = state.places[:, kernel.TAKEN] > state.places[:, kernel.PLACES]
    many = state.offers[:, kernel.CARTONS] > state.offers[:, kernel.MOST]
    return not (full.any() or many.any()) and all(
        kernel.is_lawful(
            state.lots, state.cartons, state.offers, state.amount, state.inside, state.carries, carton
        )
        for carton in np.flatnonzero(state.cartons[:, kernel.NUMBER]).tolist()
    )


@pytest.mark.parametrize("is_framed", [False, True])
@pytest.mark.parametrize("first", [0, 10, 20])
def test_after_every_move_all_tables_add_up_and_every_carton_keeps_the_rules(first, is_framed):
    kept = 0
    days = [*some_days(first, first + 10), Annealed(planning_day(first, lots=20, departures=6))]
    for found in days:
        walk = Walk(found, seed=first + 7, is_framed=is_framed)
        assert walk.unsound() == []
        offers = walk.state.cartons[:, kernel.OFFER].copy()
        for _ in range(300):
            count = walk.draw()
            if count and np.isfinite(walk.weigh(count)):
                walk.settle(count)
                assert walk.unsound() == []
                assert lawful(walk)
                kept += 1
            elif count:
                walk.undo(count)
        if is_framed:
            assert (walk.state.cartons[:, kernel.OFFER] == offers).all()
    assert kept > 150


def test_a_move_takes_no_more_than_there_is_and_moves_no_lot_twice_from_one_carton():
    walk, rows = Walk(Annealed(planning_day(1, lots=30, departures=8))), Counter()
    for _ in range(3000):
        count = walk.draw()
        for lot, source, target, grams in walk.moves[:count].tolist():
            there = walk.state.lots[lot, kernel.STAYS] if source < 0 else walk.state.amount[source, lot]
            assert 0 < grams <= there
            assert source != target
        pairs = [(lot, source) for lot, source, _, _ in walk.moves[:count].tolist()]
        assert len({*pairs}) == len(pairs)
        rows[count] += 1
        if count and np.isfinite(walk.weigh(count)):
            walk.settle(count)
        elif count:
            walk.undo(count)
    # One lot, an exchange, a rotation or two for one, and repairs on top.
    assert {1, 2, 3} <= {*rows}


def test_a_whole_lot_is_never_parted():
    walk = Walk(Annealed(planning_day(4, lots=30, departures=8)))
    whole = walk.state.lots[:, kernel.DIVISIBLE] == 0
    for _ in range(2000):
        count = walk.draw()
        if count and np.isfinite(walk.weigh(count)):
            walk.settle(count)
        elif count:
            walk.undo(count)
        assert ((walk.state.amount[:, whole] > 0).sum(axis=0) <= 1).all()
    assert whole.any()
    assert not whole.all()
