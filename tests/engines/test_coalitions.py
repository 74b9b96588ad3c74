from fractions import Fraction
from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coop.engines.coalitions import (
    checked_amounts,
    checked_costs,
    coalition_costs,
    coalition_masses,
    coalition_sums,
    members_of,
    membership,
    players_of,
    subadditive_cover,
)

FEW = settings(max_examples=40, deadline=None)


def test_player_i_is_bit_i():
    assert members_of(0) == ()
    assert members_of(0b1011) == (0, 1, 3)
    assert members_of(np.int64(4)) == (2,)
    assert membership(3)[0b101].tolist() == [True, False, True]
    assert membership(3).shape == (8, 3)
    assert players_of(np.zeros(16)) == 4


@pytest.mark.parametrize("players", [1, 2, 5, 9])
def test_each_coalition_has_what_its_members_have(players):
    amounts = np.random.default_rng(players).integers(-9, 99, players)
    expected = [sum(amounts[i] for i in members_of(mask)) for mask in range(2**players)]
    assert coalition_sums(amounts).tolist() == expected


def test_masses_meet_a_step_exactly():
    # 0.1 + 0.2 is not 0.3 in binary fractions: a coalition of just 0.3 kg would miss a step that begins so.
    assert coalition_masses([0.1, 0.2]).tolist() == [0, 0.1, 0.2, 0.3]
    tenths = coalition_masses([0.1] * 10)
    assert set(tenths.tolist()) == {round(0.1 * count, 1) for count in range(11)}


@FEW
@given(st.lists(st.decimals(min_value="0.001", max_value=500, places=3), min_size=1, max_size=8))
def test_masses_are_the_nearest_floats_to_the_exact_sums(masses):
    found = coalition_masses([float(mass) for mass in masses])
    exact = [sum((Fraction(masses[i]) for i in members_of(m)), Fraction(0)) for m in range(len(found))]
    assert found.tolist() == [float(total) for total in exact]


def test_a_cost_is_asked_once_for_each_mass_that_occurs():
    asked = []

    def cost(masses):
        asked.append(masses.tolist())
        return 100 + masses

    found = coalition_costs([30, 10, 20, 10], cost=cost)
    assert asked == [[10, 20, 30, 40, 50, 60, 70]]
    assert found[0] == 0
    assert found[1:].tolist() == (100 + coalition_masses([30, 10, 20, 10])[1:]).tolist()


def partitions(players):
    """All ways to part a list of players."""
    if not players:
        yield []
        return
    first, rest = players[0], players[1:]
    for size in range(len(rest) + 1):
        for others in combinations(rest, size):
            left = [player for player in rest if player not in others]
            yield from ([(first, *others), *further] for further in partitions(left))


@pytest.mark.parametrize("players", [1, 2, 3, 4, 5])
def test_the_cover_is_the_cheapest_partition(players):
    costs = np.r_[0, np.random.default_rng(players).integers(1, 40, 2**players - 1)].astype(float)
    found = subadditive_cover(costs)
    for mask in range(1, 2**players):
        parted = partitions(list(members_of(mask)))
        cheapest = min(sum(costs[sum(1 << i for i in part)] for part in parts) for parts in parted)
        assert found[mask] == cheapest


def test_a_cover_is_its_own_cover_and_joins_never_cost_more():
    costs = np.r_[0, np.random.default_rng(3).uniform(1, 40, 2**9 - 1)]
    found = subadditive_cover(costs)
    assert (found <= costs).all()
    assert subadditive_cover(found) == pytest.approx(found, rel=1e-12)
    one = np.arange(2**9)
    for other in (0b1, 0b101, 0b110011, 0b111000000):
        apart = one & other == 0
        assert (found[one[apart] | other] <= found[one[apart]] + found[other] + 1e-9).all()


def test_costs_that_are_subadditive_already_stay():
    costs = np.sqrt(coalition_sums(np.arange(1.0, 9.0)))
    assert subadditive_cover(costs) == pytest.approx(costs, rel=1e-12)
    assert costs[3] == np.sqrt(3)


@pytest.mark.parametrize(
    ("found", "message"),
    [
        (lambda: members_of(-1), "coalition must be 0 or more, not -1"),
        (lambda: membership(0), "players must be 1 to 20, not 0"),
        (lambda: membership(21), "players must be 1 to 20, not 21"),
        (lambda: coalition_sums([]), r"amounts must be of 1 to 20 players, not of shape \(0,\)"),
        (lambda: coalition_sums(np.ones(21)), r"amounts must be of 1 to 20 players, not of shape \(21,\)"),
        (lambda: coalition_masses([10, 0]), r"masses must be positive, not 0\.0"),
        (lambda: coalition_masses([10, -1]), r"masses must be positive, not -1\.0"),
        (lambda: coalition_masses([10, np.nan]), "masses must be finite, not nan"),
        (lambda: coalition_masses([]), r"masses must be of 1 to 20 players, not of shape \(0,\)"),
        (lambda: coalition_costs([1, 2], cost=lambda m: m[:1]), r"cost must give 3 costs, not shape \(1,\)"),
        (lambda: coalition_costs([1], cost=lambda m: m * np.nan), "cost must be finite, not nan"),
        (lambda: checked_costs([0, 1, 2, 3, 4]), r"costs must be of all coalitions .*, not \(5,\)"),
        (lambda: checked_costs([0.0]), r"costs must be of all coalitions .*, not \(1,\)"),
        (lambda: checked_costs([0, -np.inf]), "costs must be finite, not -inf"),
        (lambda: checked_amounts("shares", 3.0), r"shares must be of 1 to 20 players, not of shape \(\)"),
        (lambda: subadditive_cover(np.zeros(2**17)), "1 to 16 players"),
    ],
)
def test_what_is_out_of_range_is_refused_by_name_and_value(found, message):
    with pytest.raises(ValueError, match=message):
        found()
