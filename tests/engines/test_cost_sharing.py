import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coop.engines.cost_sharing import (
    by_weight,
    capped,
    checked_masses,
    equal,
    serial,
    serial_quantities,
)

FEW = settings(max_examples=60, deadline=None)
MASSES = st.lists(st.integers(1, 900).map(lambda tenths: tenths / 10), min_size=1, max_size=9)


def test_a_small_trader_pays_more_by_weight_than_alone_unless_it_is_capped():
    # Reference values of the project, §7: A 10 kg alone 3 000, B 90 kg alone 60 000, together 60 000.
    assert by_weight([10, 90], bill=60_000) == pytest.approx([6000, 54_000], rel=1e-12)
    found = capped([10, 90], bill=60_000, alone=[3000, 60_000])
    assert found.feasible
    assert found.shares.tolist() == [3000, 57_000]


@pytest.mark.parametrize(
    ("demands", "cost", "expected"),
    [
        # Reference values of the project, §7; formula of Moulin & Shenker 1992, Econometrica 60:1009.
        ([1, 2, 3], lambda quantity: quantity**2, [3, 11, 22]),
        ([10, 20, 70], lambda quantity: 30 + 2 * quantity, [30, 50, 150]),
    ],
)
def test_serial_shares_of_two_cost_functions(demands, cost, expected):
    assert serial(demands, cost=cost) == pytest.approx(expected, rel=1e-12)
    assert serial(demands[::-1], cost=cost) == pytest.approx(expected[::-1], rel=1e-12)


def test_serial_costs_may_be_given_as_an_array():
    assert serial_quantities([2, 3, 1]).tolist() == [3, 5, 6]
    assert serial([2, 3, 1], cost=[9, 25, 36]).tolist() == [11, 22, 3]


@FEW
@given(MASSES, st.floats(0, 1e7))
def test_shares_by_weight_are_one_price_a_kilogram(masses, bill):
    shares = by_weight(masses, bill=bill)
    assert shares.sum() == pytest.approx(bill, rel=1e-12)
    assert shares / np.array(masses) == pytest.approx([bill / sum(masses)] * len(masses), rel=1e-9)


def test_equal_shares_are_all_the_same():
    assert equal(3, bill=100).tolist() == [100 / 3] * 3
    assert equal(np.int64(4), bill=0).tolist() == [0] * 4


@FEW
@given(MASSES, st.floats(0.1, 50))
def test_serial_shares_of_a_cost_in_proportion_are_by_weight(masses, price):
    shares = serial(masses, cost=lambda quantity: price * quantity)
    assert shares == pytest.approx(by_weight(masses, bill=price * sum(masses)), rel=1e-9)


@FEW
@given(MASSES)
def test_serial_shares_sum_to_the_bill_and_rise_with_the_demand(masses):
    def cost(quantity):
        return 40 + np.ceil(quantity / 25) * 90

    shares = serial(masses, cost=cost)
    assert shares.sum() == pytest.approx(cost(sum(masses)), rel=1e-9)
    assert (np.diff(shares[np.argsort(masses, kind="stable")]) >= -1e-9).all()
    for one, other in zip(masses, shares, strict=True):
        assert other == pytest.approx(shares[masses.index(one)], abs=1e-9)


@FEW
@given(MASSES, st.floats(1, 100))
def test_who_asks_for_more_leaves_smaller_serial_shares_as_they_were(masses, more):
    largest = masses.index(max(masses))
    grown = [mass + more if player == largest else mass for player, mass in enumerate(masses)]
    before, after = (serial(asked, cost=lambda quantity: quantity**1.5) for asked in (masses, grown))
    smaller = [player for player in range(len(masses)) if player != largest]
    assert after[smaller] == pytest.approx(before[smaller], rel=1e-9)


def water_level(masses, bill, alone):
    """The price a kilogram found by halving: another way to the same shares."""
    low, high = 0.0, 1e12
    for _ in range(200):
        middle = (low + high) / 2
        enough = np.minimum(alone, middle * masses).sum() >= bill
        low, high = (low, middle) if enough else (middle, high)
    return np.minimum(alone, high * masses)


@FEW
@given(MASSES, st.integers(0, 2**32 - 1), st.floats(0, 1))
def test_capped_shares_are_one_price_a_kilogram_below_the_caps(masses, seed, part):
    rng = np.random.default_rng(seed)
    alone = np.round(rng.uniform(0, 9000, len(masses)))
    bill = part * alone.sum()
    found = capped(masses, bill=bill, alone=alone)
    assert found.feasible
    assert (found.shares <= alone).all()
    assert found.shares.sum() == pytest.approx(bill, rel=1e-9, abs=1e-9)
    assert found.shares == pytest.approx(water_level(np.array(masses), bill, alone), rel=1e-7, abs=1e-6)


def test_what_the_caps_take_off_is_spread_again_and_again():
    # By hand: 12 000 over 10, 20, 30 kg is 200 a kg; A is capped at 500, the rest 230 a kg; B is capped at
    # 4 000 as well; C pays what is left.
    found = capped([10, 20, 30], bill=12_000, alone=[500, 4000, 9000])
    assert found.shares.tolist() == [500, 4000, 7500]


def test_who_cannot_go_alone_has_no_cap():
    found = capped([10, 20, 30], bill=12_000, alone=[500, np.inf, np.inf])
    assert found.feasible
    assert found.shares == pytest.approx([500, 4600, 6900], rel=1e-12)


def test_where_alone_is_cheaper_all_pay_that_and_what_is_missing_by_weight():
    found = capped([10, 30], bill=10_000, alone=[2000, 6000])
    assert not found.feasible
    assert found.shares.tolist() == [2500, 7500]


@pytest.mark.parametrize("more", [-1e-6, 0, 1e-6])
def test_no_share_jumps_where_the_bill_crosses_the_sum_of_the_alternatives(more):
    found = capped([10, 30, 7], bill=9500 + more, alone=[2000, 6000, 1500])
    assert found.feasible == (more <= 0)
    assert found.shares == pytest.approx([2000, 6000, 1500], abs=2e-6)


def test_a_bill_that_nobody_would_pay_less_for_alone_is_shared_by_weight():
    found = capped([10, 20], bill=300, alone=[1e6, 1e6])
    assert found.shares == pytest.approx(by_weight([10, 20], bill=300), rel=1e-12)
    assert capped([10, 20], bill=0, alone=[0, 5]).shares.tolist() == [0, 0]


def test_a_greater_bill_never_lowers_a_share():
    alone = [900, 2500, 0, 4000]
    bills = np.linspace(0, 12_000, 121)
    shares = np.array([capped([3, 20, 5, 11], bill=bill, alone=alone).shares for bill in bills])
    assert (np.diff(shares, axis=0) >= -1e-9).all()


@pytest.mark.parametrize(
    ("found", "message"),
    [
        (lambda: by_weight([], bill=1), r"masses must be of 1 to 100000 lots, not of shape \(0,\)"),
        (lambda: by_weight([1, 0], bill=1), r"masses must be positive, not 0\.0"),
        (lambda: by_weight([1, -2], bill=1), r"masses must be positive, not -2\.0"),
        (lambda: by_weight([np.nan], bill=1), "masses must be positive, not nan"),
        (lambda: by_weight([np.inf], bill=1), "masses must be positive, not inf"),
        (lambda: by_weight([1], bill=-1), r"bill must be 0 or more, not -1\.0"),
        (lambda: by_weight([1], bill=np.nan), "bill must be 0 or more, not nan"),
        (lambda: equal(0, bill=1), "players must be 1 to 100000, not 0"),
        (lambda: equal(2.0, bill=1), r"players must be whole, not 2\.0"),
        (lambda: equal(True, bill=1), "players must be whole, not True"),
        (lambda: equal(2, bill=np.inf), "bill must be 0 or more, not inf"),
        (lambda: serial([1, 0], cost=np.sqrt), r"demands must be positive, not 0\.0"),
        (lambda: serial([1, 2], cost=[1]), r"cost must be 2 costs, not of shape \(1,\)"),
        (lambda: serial([1, 2], cost=[1, np.nan]), "cost must be finite, not nan"),
        (lambda: capped([1, 2], bill=3, alone=[1]), r"alone must be 2 costs, not of shape \(1,\)"),
        (lambda: capped([1, 2], bill=3, alone=[1, -1]), r"alone must be 0 or more, not -1\.0"),
        (lambda: capped([1, 2], bill=3, alone=[1, np.nan]), "alone must be 0 or more, not nan"),
        (lambda: checked_masses([[1, 2]]), r"masses must be of 1 to 100000 lots, not of shape \(1, 2\)"),
    ],
)
def test_what_is_out_of_range_is_refused_by_name_and_value(found, message):
    with pytest.raises(ValueError, match=message):
        found()
