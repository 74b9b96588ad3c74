import math
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coop.engines.largest_remainder import largest_remainder

FEW = settings(max_examples=80, deadline=None)
SHARES = st.lists(st.floats(0, 1e6, allow_subnormal=False), min_size=1, max_size=9).filter(
    lambda s: sum(s) > 1e-3
)
# Seats of the House at 60, population of 1790 (electowiki, Hamilton method, read).
STATES = {
    **{"Virginia": (630_560, 11), "Massachusetts": (475_327, 8), "Pennsylvania": (432_879, 7)},
    **{"North Carolina": (353_523, 6), "New York": (331_589, 6), "Maryland": (278_514, 5)},
    **{"Connecticut": (236_841, 4), "South Carolina": (206_236, 3), "New Jersey": (179_570, 3)},
    **{"New Hampshire": (141_822, 2), "Vermont": (85_533, 1), "Georgia": (70_835, 1)},
    **{"Kentucky": (68_705, 1), "Rhode Island": (68_446, 1), "Delaware": (55_540, 1)},
}


@pytest.mark.parametrize(
    ("shares", "total", "expected"),
    [
        # Reference values of the project, §7.
        ([47_000, 16_000, 15_800, 12_000, 6100, 3100], 10, (5, 2, 1, 1, 1, 0)),
        ([170, 235, 595], 9999, (1700, 2350, 5949)),
        ([people for people, _ in STATES.values()], 60, tuple(seats for _, seats in STATES.values())),
    ],
)
def test_published_apportionments(shares, total, expected):
    assert largest_remainder(shares, total=total) == expected


def test_equal_remainders_go_to_the_first():
    assert largest_remainder([1, 1, 1], total=100) == (34, 33, 33)
    assert largest_remainder([100 / 3] * 3, total=101) == (34, 34, 33)
    # A round-off of a computer is no reason to come first.
    assert largest_remainder([100 / 3, 100 / 3 + 1e-9, 100 / 3 - 1e-9], total=100) == (34, 33, 33)


@pytest.mark.parametrize(
    ("total", "expected"),
    [
        (100, (50, 30, 20)),
        # By hand, quotas 51.5, 31.415 and 20.085: ten, six and four coins, and the 3 that no coin can pay go
        # to the first, which misses most.
        (103, (53, 30, 20)),
        (3, (3, 0, 0)),
        (0, (0, 0, 0)),
    ],
)
def test_what_is_less_than_a_coin_is_not_lost(total, expected):
    assert largest_remainder([5, 3.05, 1.95], total=total, coin=5) == expected


@FEW
@given(SHARES, st.integers(0, 10**7), st.sampled_from([1, 2, 5, 10, 50, 100]))
def test_parts_sum_to_the_bill_and_miss_their_quota_by_less_than_a_coin(shares, total, coin):
    parts = largest_remainder(shares, total=total, coin=coin)
    assert sum(parts) == total
    assert all(type(part) is int for part in parts)
    assert sum(part % coin != 0 for part in parts) == (total % coin != 0)
    asked = sum(Fraction(str(share)) for share in shares)
    for share, part in zip(shares, parts, strict=True):
        assert abs(part - Fraction(str(share)) * total / asked) < coin


@FEW
@given(SHARES, st.integers(1, 10**6))
def test_who_has_the_larger_share_never_pays_less_but_for_ties(shares, total):
    parts = largest_remainder(sorted(shares), total=total, coin=5)
    exact = [Fraction(share) for share in sorted(shares)]
    for i in range(1, len(parts)):
        if (exact[i] - exact[i - 1]) * total / sum(exact) > Fraction(1, 10**5) and total % 5 == 0:
            assert parts[i] >= parts[i - 1]


@FEW
@given(
    st.lists(st.tuples(st.integers(1, 900), st.integers(0, 5000)), min_size=1, max_size=8),
    st.floats(0, 1),
    st.sampled_from([1, 5, 50, 100]),
)
def test_no_part_exceeds_its_limit_and_the_sum_still_holds(players, part, coin):
    shares, limits = zip(*players, strict=True)
    total = int(part * sum(limits))
    parts = largest_remainder(shares, total=total, coin=coin, at_most=limits)
    assert sum(parts) == total
    assert all(0 <= part <= limit for part, limit in zip(parts, limits, strict=True))


def test_a_limit_between_two_coins_is_kept_at_the_price_of_change():
    # Coins of 5: the first may pay 12 at most; its third coin goes to the other, whose quota is 18.
    assert largest_remainder([12, 18], total=30, coin=5, at_most=[12, 100]) == (10, 20)
    # Both are at their limits: only change can make up the bill.
    assert largest_remainder([12, 18], total=30, coin=5, at_most=[12, 18]) == (12, 18)
    assert largest_remainder([12, 18], total=30, coin=5, at_most=[math.inf, 15]) == (15, 15)


def test_a_share_below_nothing_is_paid_out():
    assert largest_remainder([120, -20], total=100) == (120, -20)
    assert largest_remainder([121.5, -20.5], total=101, coin=10) == (121, -20)
    assert sum(largest_remainder([70.7, 40.3, -11], total=100, coin=7)) == 100


def test_fractions_numpy_numbers_and_huge_bills_are_exact():
    thirds = [Fraction(1, 3), Fraction(2, 3)]
    assert largest_remainder(thirds, total=10**12) == (333_333_333_333, 666_666_666_667)
    assert largest_remainder(np.array([0.1, 0.2, 0.7]), total=10) == (1, 2, 7)
    assert sum(largest_remainder(np.random.default_rng(1).uniform(size=1000), total=10**12, coin=7)) == 10**12


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"shares": []}, "shares must be of one player or more, not of none"),
        ({"shares": [1, float("nan")]}, "shares must be a finite number, not nan"),
        ({"shares": [1, float("inf")]}, "shares must be a finite number, not inf"),
        ({"shares": [0, 0]}, r"shares must sum to more than 0, not to 0\.0"),
        ({"shares": [1, -2]}, r"shares must sum to more than 0, not to -1\.0"),
        ({"total": -1}, "total must be whole and 0 to 1000000000000, not -1"),
        ({"total": 10.0}, r"total must be whole .*, not 10\.0"),
        ({"coin": 0}, "coin must be whole and 1 to .*, not 0"),
        ({"coin": 0.5}, r"coin must be whole .*, not 0\.5"),
        ({"at_most": [100]}, "at_most must be of 2 players, not of 1"),
        ({"at_most": [40, 59]}, "at_most must sum to 100 or more, not to 99"),
        ({"at_most": [40, 60.5]}, r"at_most must be whole .*, not 60\.5"),
        ({"at_most": [-1, 200]}, "at_most must be whole .*, not -1"),
    ],
)
def test_what_is_out_of_range_is_refused_by_name_and_value(changes, message):
    asked = {"shares": [3, 4], "total": 100, **changes}
    with pytest.raises(ValueError, match=message):
        largest_remainder(asked.pop("shares"), **asked)


def test_nothing_is_shared_as_nothing():
    assert largest_remainder([0, 0], total=0) == (0, 0)
    assert largest_remainder([1e-17, -1e-17], total=0, coin=5, at_most=[0, 0]) == (0, 0)
