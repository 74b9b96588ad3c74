import numpy as np
import pytest

from coop.engines import consolidation_anneal_kernel as kernel
from coop.engines.consolidation import Lot
from tests.engines.consolidation_annealed import Annealed, some_days
from tests.engines.consolidation_cases import Day, an_offer
from tests.engines.consolidation_planning import planning_day
from tests.engines.consolidation_walk import Walk


def two_cartons(*lots, apart=(), **offer):
    """Two cartons of 100 kg that nothing lies in yet, and lots that stay."""
    rows = [Lot(key=number, **{"mass": 40, **lot}) for number, lot in enumerate(lots)]
    return Walk(Annealed(Day(rows, [an_offer(rows, **offer)], {"d": 2}, apart)))


def laid(walk, *grams, carton=0):
    """Whether a carton with so many g of each lot keeps the rules, the lots taken out again."""
    held = [(lot, amount) for lot, amount in enumerate(grams) if amount]
    for lot, amount in held:
        kernel.put(*walk.tables, lot, carton, amount)
    state = walk.state
    is_lawful = kernel.is_lawful(
        state.lots, state.cartons, state.offers, state.amount, state.inside, state.carries, carton
    )
    for lot, amount in held:
        kernel.put(*walk.tables, lot, carton, -amount)
    return is_lawful


def emptied(walk):
    for carton in range(len(walk.state.cartons)):
        for lot in np.flatnonzero(walk.state.amount[carton]).tolist():
            grams = int(walk.state.amount[carton, lot])
            kernel.put(*walk.tables, lot, carton, -grams)
            kernel.put(*walk.tables, lot, -1, grams)
    return walk


def test_draws_are_those_of_marsaglia():
    # Marsaglia 2003, Xorshift RNGs, J. Stat. Softw. 8(14), 13 7 17 with his 88172645463325252 (from memory);
    # the next numbers by his three lines in Python's own whole numbers.
    luck, number = np.array([88172645463325252], np.uint64), 88172645463325252
    for turn in range(1000):
        number ^= number << 13 & (2**64 - 1)
        number ^= number >> 7
        number ^= number << 17 & (2**64 - 1)
        if turn == 0:
            assert number == 8748534153485358512
        assert kernel.chance(luck) == (number >> 11) / 2**53


def test_a_carton_is_lawful_up_to_the_gram():
    walk = emptied(two_cartons({}, {"mass": 80, "may_split": True, "least_part": 10}))
    assert laid(walk, 40_000, 60_000)
    assert not laid(walk, 40_000, 60_001)
    assert laid(walk, 0, 10_000)
    assert not laid(walk, 0, 9_999)


def test_a_carton_is_lawful_up_to_its_volume():
    walk = emptied(two_cartons({"volume": 0.06}, {"volume": 0.06}, volume=0.119))
    assert laid(walk, 40_000, 0)
    assert not laid(walk, 40_000, 40_000)
    assert laid(emptied(two_cartons({"volume": 0.06}, {"volume": 0.06}, volume=0.12)), 40_000, 40_000)


@pytest.mark.parametrize("kinds", [("bream", "buka"), ("buka", "bream")])
def test_kinds_that_clash_may_not_lie_in_one_carton(kinds):
    lots = [{"kind": kind} for kind in kinds]
    assert not laid(emptied(two_cartons(*lots, apart=[("bream", "buka")])), 40_000, 40_000)
    assert laid(emptied(two_cartons(*lots, apart=[("bream", "kapenta")])), 40_000, 40_000)


def test_what_may_not_travel_so_is_not_carried():
    walk = emptied(two_cartons({}, {}))
    walk.state.carries[0, 1] = False
    assert laid(walk, 40_000)
    assert not laid(walk, 40_000, 40_000)


def test_a_carton_lacks_what_keeps_it_hard_only_if_it_is_sent():
    walk = emptied(two_cartons({}, least_mass=50))
    assert kernel.missing(walk.state.cartons, walk.state.offers, 0) == 0
    kernel.put(*walk.tables, 0, 0, 40_000)
    assert kernel.missing(walk.state.cartons, walk.state.offers, 0) == 10_000


def test_a_carton_finds_place_until_its_departure_is_full():
    walk = emptied(two_cartons({}, {}, {}, places=1))
    offers, places = walk.state.offers, walk.state.places
    assert kernel.finds_place(offers, places, 0, -1)
    for carton in range(2):
        kernel.put(*walk.tables, carton, carton, 40_000)
    assert not kernel.finds_place(offers, places, 0, -1)


@pytest.mark.parametrize("first", [0, 10])
def test_a_move_costs_what_all_fares_and_all_that_stays_cost_more(first):
    days = [*some_days(first, first + 10), Annealed(planning_day(first, lots=20, departures=6))]
    for found in days:
        walk = Walk(found, seed=first + 1)
        for _ in range(300):
            count, before = walk.draw(), walk.fares_paid()
            if count == 0:
                continue
            change = walk.weigh(count)
            if np.isfinite(change):
                assert walk.fares_paid() - before == pytest.approx(change, abs=1e-5)
                walk.settle(count)
            else:
                walk.undo(count)


def test_a_move_undone_leaves_no_trace():
    moved = 0
    for found in [*some_days(20, 30), Annealed(planning_day(2, lots=20, departures=6))]:
        walk = Walk(found)
        for _ in range(200):
            count = walk.draw()
            if count == 0:
                continue
            before = walk.copy()
            walk.weigh(count)
            walk.undo(count)
            assert all((was == now).all() for was, now in zip(before, walk.copy(), strict=True))
            moved += 1
            if np.isfinite(walk.weigh(count)):
                walk.settle(count)
            else:
                walk.undo(count)
    assert moved > 150
