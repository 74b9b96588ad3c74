"""One bill under every rule. Games with a source name it; the others can be added up by hand."""

import math

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as some

from coop.models import SharingRule
from coop.selectors.sharing_rules import Sharing


def sharing(masses, *, cost, alone=None, bill=None, coin=1):
    masses = tuple(float(mass) for mass in masses)
    bill = int(cost(np.array([sum(masses)]))[0]) if bill is None else bill
    return Sharing(masses, bill, tuple(alone or [None] * len(masses)), cost, coin)


def under(game):
    return {shared.rule: shared for shared in game.rules()}


def by_cartons(carton_kg, price):
    """A price for each carton that is begun."""
    return lambda masses: price * np.ceil(np.asarray(masses) / carton_kg)


def test_serial_shares_of_one_fare_and_a_price_a_kilogram():
    """Moulin & Shenker 1992, formula: 30 + 2 a kilogram, lots of 10, 20 and 70 kg pay 30, 50 and 150."""
    found = under(sharing((10, 20, 70), cost=lambda masses: 30 + 2 * np.asarray(masses)))
    assert found[SharingRule.SERIAL].amounts_minor == (30, 50, 150)


def test_weight_charges_a_small_trader_more_than_alone_and_the_cap_does_not():
    """10 kg alone 3 000, 90 kg alone 60 000, together 60 000: by weight the small one pays 6 000."""
    game = sharing((10, 90), cost=lambda masses: np.full(len(masses), 60_000), alone=(3000, 60_000))
    found = under(game)
    assert found[SharingRule.BY_WEIGHT].amounts_minor == (6000, 54_000)
    assert (found[SharingRule.BY_WEIGHT].leaves, found[SharingRule.BY_WEIGHT].gain_minor) == ((0,), 3000)
    assert found[SharingRule.CAPPED].amounts_minor == (3000, 57_000)
    assert found[SharingRule.CAPPED].feasible
    assert found[SharingRule.CAPPED].leaves == ()


def test_three_halves_of_a_carton_have_no_stable_split():
    """Three traders of 30 kg, a carton of 60 kg costs 1 (here 3 000): whatever the split, a pair overpays."""
    game = sharing((30, 30, 30), cost=by_cartons(60, 3000))
    assert game.core_is_empty
    for shared in game.rules():
        assert sum(shared.amounts_minor) == 6000
        assert len(shared.leaves) == 2
        # A pair pays 4 000 of 6 000 at the least, and 3 000 alone; a third of a carton's price.
        assert shared.gain_minor >= 1000


def test_a_bill_above_what_all_pay_alone_cannot_be_capped_and_says_so():
    game = sharing((10, 30), cost=lambda masses: np.full(len(masses), 9000), alone=(2000, 3000), bill=9000)
    capped = under(game)[SharingRule.CAPPED]
    assert not capped.feasible
    # Both pay alone, and 4 000 more by weight.
    assert capped.amounts_minor == (3000, 6000)
    assert game.core_is_empty


def test_who_has_no_way_alone_has_no_cap():
    game = sharing((10, 30), cost=lambda masses: np.full(len(masses), 8000), alone=(1000, None))
    assert under(game)[SharingRule.CAPPED].amounts_minor == (1000, 7000)


def test_one_alone_pays_the_bill_under_every_rule():
    game = sharing((10,), cost=by_cartons(60, 3001), alone=(2500,), coin=50)
    assert {shared.amounts_minor for shared in game.rules()} == {(3001,)}
    assert {shared.rule for shared in game.rules()} == set(SharingRule.values)


def test_less_than_a_coin_is_no_reason_to_leave():
    cost = lambda masses: np.full(len(masses), 1000)  # noqa: E731 one price for all
    game = sharing((10, 30), cost=cost, alone=(240, 1000), coin=50)
    # By weight the first pays 250, ten more than alone.
    assert under(game)[SharingRule.BY_WEIGHT].leaves == ()
    assert under(sharing((10, 30), cost=cost, alone=(240, 1000)))[SharingRule.BY_WEIGHT].leaves == (0,)


def test_more_than_twelve_have_no_nucleolus_and_more_than_twenty_an_estimate():
    thirteen = sharing([5] * 13, cost=by_cartons(30, 3000))
    assert set(under(thirteen)) == set(SharingRule.values) - {SharingRule.NUCLEOLUS}
    assert thirteen.core_is_empty is None
    many = sharing(range(5, 30), cost=by_cartons(100, 30_000), coin=10)
    assert many.is_sampled
    for shared in many.rules():
        assert sum(shared.amounts_minor) == many.bill
        assert shared.leaves is None
    # Equals pay as good as the same: 2 000 orders of one seed.
    heavy, light = under(many)[SharingRule.SHAPLEY].amounts_minor[::24]
    assert heavy < light


@settings(max_examples=60, deadline=None)
@given(data=some.data())
def test_every_rule_pays_the_bill_to_the_coin_and_nobody_above_alone_where_that_can_be(data):
    masses = data.draw(
        some.lists(some.integers(1, 400).map(lambda tenths: tenths / 10), min_size=1, max_size=6)
    )
    carton_kg, price = data.draw(some.floats(5, 120)), data.draw(some.integers(0, 50_000))
    a_kilogram, coin = data.draw(some.integers(0, 300)), data.draw(some.sampled_from((1, 5, 50, 1000)))
    alone = [data.draw(some.none() | some.integers(0, 60_000)) for _ in masses]

    def cost(asked):
        return np.rint(price * np.ceil(np.asarray(asked) / carton_kg) + a_kilogram * np.asarray(asked))

    game = sharing(masses, cost=cost, alone=alone, coin=coin)
    for shared in game.rules():
        assert sum(shared.amounts_minor) == game.bill
        assert all(type(amount) is int for amount in shared.amounts_minor)
        limits = [math.inf if least is None else least for least in alone]
        if shared.rule == SharingRule.CAPPED and shared.feasible:
            assert all(amount <= most for amount, most in zip(shared.amounts_minor, limits, strict=True))
        elif shared.rule != SharingRule.CAPPED:
            assert sum(amount % coin != 0 for amount in shared.amounts_minor) <= 1
        if shared.leaves:
            assert shared.gain_minor >= coin
            assert game.core_is_empty or shared.rule != SharingRule.NUCLEOLUS
