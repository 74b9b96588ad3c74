import itertools
import random

import numpy as np
import pytest

from coop.engines.carton_patterns import Contents, Room, best_pattern, patterns_above

ALL = 10**7


def contents(mass, volume=None, count=None, extra=None, kind=None, clashes=None):
    rows = len(mass)
    columns = (mass, volume or [0] * rows, count or [1] * rows, extra or [0] * rows)
    kinds = (kind or [0] * rows, clashes or [0] * rows)
    return Contents(*(np.array(column, np.int64) for column in (*columns, *kinds)))


def random_case(seed):
    """Seven classes of lots, some twice, of kinds of which two clash and one with itself."""
    draw = random.Random(seed)
    kinds = [draw.choice((1, 2, 4, 0)) for _ in range(7)]
    lots = contents(
        [draw.randint(5, 60) for _ in range(7)],
        [draw.randint(0, 9) for _ in range(7)],
        [draw.choice((1, 1, 2)) for _ in range(7)],
        None,
        kinds,
        [{0: 0, 1: 2, 2: 1, 4: 4}[kind] for kind in kinds],
    )
    room = Room(100, draw.choice((12, 30)), draw.choice((0, 0, 60)))
    return lots, room, np.array([draw.uniform(-3, 10) for _ in range(7)])


def every_content(lots, room):
    """Every content of a carton, looked at one by one."""
    for counts in itertools.product(*(range(n + 1) for n in lots.count)):
        inside = [row for row, n in enumerate(counts) for _ in range(n)]
        mass, bulk = np.dot(counts, lots.mass), np.dot(counts, lots.volume)
        apart = any(lots.clashes[a] & lots.kind[b] for a, b in itertools.combinations(inside, 2))
        if inside and room.least <= mass <= room.capacity and bulk <= room.volume and not apart:
            yield counts


@pytest.mark.parametrize("first", range(0, 300, 100))
def test_the_best_content_is_the_best_of_all(first):
    for seed in range(first, first + 100):
        lots, room, rewards = random_case(seed)
        best = max((float(np.dot(c, rewards)) for c in every_content(lots, room)), default=0.0)
        found, upper = best_pattern(lots, room=room, rewards=rewards, threshold=0.0, node_limit=ALL)
        assert upper == pytest.approx(max(best, 0.0))
        if best > 0:
            assert np.dot(found.counts, rewards) == pytest.approx(best)
            assert tuple(found.counts) in set(every_content(lots, room))
        else:
            assert found is None


@pytest.mark.parametrize("first", range(0, 100, 50))
def test_every_content_above_a_reward_is_listed_once(first):
    for seed in range(first, first + 50):
        lots, room, rewards = random_case(seed)
        wanted = {c for c in every_content(lots, room) if np.dot(c, rewards) > 4.0}
        found, are_all = patterns_above(
            lots, room=room, rewards=rewards, threshold=4.0, limit=2000, node_limit=ALL
        )
        assert are_all
        assert sorted(map(tuple, found.tolist())) == sorted(wanted)


def test_a_divisible_lot_fills_what_whole_lots_leave():
    lots = contents([60, 10], extra=[0, 70])
    room = Room(100, 0, 0)
    found, _ = best_pattern(lots, room=room, rewards=np.array([60.0, 5.0]), threshold=0.0, node_limit=ALL)
    assert (found.counts.tolist(), found.extra.tolist()) == ([1, 1], [0, 30])
    assert found.reward == pytest.approx(60 + 5 + 30 * 0.5)


def test_what_costs_reward_is_taken_only_to_keep_the_carton_hard():
    lots = contents([30, 20, 25])
    rewards = np.array([9.0, -1.0, -2.0])
    free, _ = best_pattern(lots, room=Room(100, 0, 0), rewards=rewards, threshold=0.0, node_limit=ALL)
    forced, _ = best_pattern(lots, room=Room(100, 0, 45), rewards=rewards, threshold=0.0, node_limit=ALL)
    assert (free.counts.tolist(), forced.counts.tolist()) == ([1, 0, 0], [1, 1, 0])


def test_a_search_that_gives_up_still_bounds_the_reward():
    lots, room, rewards = random_case(3)
    _, sure = best_pattern(lots, room=room, rewards=rewards, threshold=0.0, node_limit=ALL)
    _, early = best_pattern(lots, room=room, rewards=rewards, threshold=0.0, node_limit=1)
    assert early >= sure


def test_a_list_stops_at_its_limit_and_says_so():
    lots = contents([10, 10, 10], extra=[5, 5, 5])
    given = {"room": Room(100, 0, 0), "rewards": np.ones(3), "threshold": 0.0, "node_limit": ALL}
    some, are_all = patterns_above(lots, limit=3, **given)
    assert (len(some), are_all) == (3, False)
    every, are_all = patterns_above(lots, limit=100, **given)
    assert (len(every), are_all) == (7, True)
