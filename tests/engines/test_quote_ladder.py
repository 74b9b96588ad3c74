from datetime import date
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coop.engines.costing import Item, Softening, cost
from coop.engines.price_ladder import price_ladder
from coop.engines.quote_ladder import Rung, amount_of, markup_of, price_at, quote_ladder
from coop.engines.tariff import ByStep, Consignment, PerCarton, PerKilogram, Tariff, fare

DAY = date(2026, 3, 10)
USUAL = {"markup": Fraction(1, 4), "coin": 1, "gap": 1, "every": 10}


def flat(masses, a_kilogram=100, besides=0):
    """Rungs of a cost that is a straight line, all of it sound."""
    return [Rung(mass, mass, besides + a_kilogram * mass) for mass in masses]


def steps_of(rungs, **changes):
    return [
        (float(one.from_mass), float(one.to_mass), one.price)
        for one in quote_ladder(rungs, **(USUAL | changes))
    ]


def test_a_mark_up_of_25_percent_and_a_margin_of_20_percent_give_the_same_price():
    # Reference, §8: mark-up 25 % is a margin of 20 %.
    by_mark_up, by_margin = (
        steps_of(flat([10], 9000), markup=markup_of(kind, share))
        for kind, share in (("mark_up", 0.25), ("margin", 0.2))
    )
    assert by_mark_up == by_margin
    [(_, _, price)] = by_mark_up
    assert Fraction(price - 9000, 9000) == Fraction(25, 100)
    assert Fraction(price - 9000, price) == Fraction(20, 100)


def test_cost_60_000_and_9_000_a_kilogram_is_quoted_at_12_000_without_profit_for_20_kg():
    # Break-even of the reference, §8: fixed 60 000, price 12 000, variable 9 000 → 20 kg.
    assert steps_of(flat([20], 9000, besides=60_000), markup=0) == [(20, 20, 12_000)]


def test_a_cost_in_proportion_has_one_price():
    assert steps_of(flat(range(5, 100))) == [(5, 99, 125)]


def test_a_price_begins_at_each_multiple_and_is_that_of_its_first_and_dearest_kilogram():
    assert steps_of(flat(range(8, 23), besides=1000), markup=0) == [
        (8, 9, 225),
        (10, 19, 200),
        (20, 22, 150),
    ]


def test_a_price_begins_where_the_way_of_charging_changes():
    rungs = [*flat([11, 12]), *(Rung(mass, mass, 200 * mass, mass == 13) for mass in (13, 14))]
    assert steps_of(rungs, markup=0) == [(11, 12, 100), (13, 14, 200)]


def test_weights_that_are_not_to_be_had_part_two_steps_of_one_price():
    assert steps_of(flat([11, 12, 15, 16])) == [(11, 12, 125), (15, 16, 125)]


def test_what_drips_is_paid_for_by_what_arrives():
    assert steps_of([Rung(10, Fraction(8), 1000)], markup=0) == [(10, 10, 125)]


@pytest.mark.parametrize(("coin", "price"), [(1, 1001), (5, 1005), (10, 1010), (100, 1100), (500, 1500)])
def test_prices_are_rounded_up_to_the_coin(coin, price):
    assert steps_of([Rung(1, 1, 1001)], markup=0, coin=coin) == [(1, 1, price)]


def test_a_cost_below_nothing_is_no_gift():
    assert steps_of([Rung(10, 10, -50)]) == [(10, 10, 0)]


def test_no_weight_no_price():
    assert quote_ladder([], **USUAL) == ()


def billed_by(rates, steps, capacity):
    """Rungs of half kilograms under a fare with steps, a minimum and cartons."""
    tariff = Tariff(
        rules=(
            PerCarton(amount=rates[0]),
            PerKilogram(amount=rates[1], minimum_mass=12),
            ByStep(steps=steps),
        ),
        valid_from=DAY,
    )
    sizes = {"outer_length": 1.0, "outer_width": 0.7, "outer_height": 0.7}
    softening = Softening(share=0.02, hard_price=7000, soft_price=4000)

    def bill(mass):
        cartons = -(-mass // capacity)
        paid = fare(tariff, consignment=Consignment(gross_mass=mass, cartons=cartons, **sizes), on=DAY)
        items = [
            Item(code="fish", basis="kilogram", rate=4501),
            Item(code="papers", basis="consignment", rate=60_000),
        ]
        return cost(mass=mass, cartons=cartons, items=items, fare=paid, softening=softening)

    return bill


@given(
    rates=st.tuples(st.integers(0, 10**6), st.integers(0, 10**4)),
    borders=st.lists(
        st.tuples(st.integers(1, 60), st.integers(0, 10**6)), max_size=4, unique_by=lambda it: it[0]
    ),
    capacity=st.integers(7, 40),
    first=st.integers(1, 60),
    count=st.integers(1, 80),
    share=st.decimals(0, 3, places=3),
    coin=st.sampled_from([1, 5, 10, 50, 100]),
    every=st.sampled_from([1, 2, 5, 10, 25]),
)
def test_every_weight_pays_for_itself_with_its_profit(
    rates, borders, capacity, first, count, share, coin, every
):
    bill = billed_by(rates, ((0, 100), *sorted(borders)), capacity)
    masses = [Fraction(first + n, 2) for n in range(count)]
    rungs = [
        Rung(rung.mass, bill(rung.mass).sound_mass, rung.total, rung.is_break)
        for rung in price_ladder(masses, cost=bill)
    ]
    steps = quote_ladder(rungs, markup=share, coin=coin, gap=Fraction(1, 2), every=every)
    for rung in rungs:
        price = price_at(steps, rung.mass)
        assert price % coin == 0
        assert price * rung.sound_mass >= rung.cost * (1 + Fraction(share))
        assert amount_of(price, rung.mass, coin=coin) >= rung.cost * (1 + Fraction(share))
    assert all(
        before.to_mass < after.from_mass and before.price != after.price for before, after in pairwise(steps)
    )
    # No price is higher than one of its weights needs: a coin less, and that one would be sold below.
    for step in steps:
        mine = [rung for rung in rungs if step.from_mass <= rung.mass <= step.to_mass]
        assert any((step.price - coin) * rung.sound_mass < rung.cost * (1 + Fraction(share)) for rung in mine)


@pytest.mark.parametrize("kind", ["mark_up", "margin"])
@pytest.mark.parametrize("share", [float("nan"), float("inf"), -0.1])
def test_a_profit_that_is_no_share_is_refused(kind, share):
    with pytest.raises(ValueError, match=f"not {share}"):
        markup_of(kind, share)


def test_a_margin_of_all_and_another_kind_of_profit_are_refused():
    with pytest.raises(ValueError, match=r"margin must be below 1, not 1\.0"):
        markup_of("margin", 1)
    with pytest.raises(ValueError, match="kind must be mark_up or margin, not 'tip'"):
        markup_of("tip", 0.1)


@pytest.mark.parametrize(
    ("rungs", "changes", "message"),
    [
        (flat([2, 2]), {}, "rungs must rise"),
        (flat([2, 1]), {}, "rungs must rise"),
        ([Rung(1, 0, 5)], {}, "sound_mass must be positive, not 0"),
        ([Rung(float("nan"), 1, 5)], {}, "mass must be a finite number, not nan"),
        ([Rung(1, 1, 5.0)], {}, r"cost must be whole .*, not 5\.0"),
        (flat([1]), {"markup": float("nan")}, "markup must be a finite number, not nan"),
        (flat([1]), {"markup": 1e9}, "markup must be 0 to 1000, not 1000000000"),
        (flat([1]), {"coin": 0}, "coin must be whole and 1"),
        (flat([1]), {"gap": 0}, "gap must be positive"),
        (flat([1]), {"every": -1}, "every must be 0 to 100000, not -1"),
    ],
)
def test_what_is_out_of_order_or_range_is_refused_by_name_and_value(rungs, changes, message):
    with pytest.raises(ValueError, match=message):
        quote_ladder(rungs, **(USUAL | changes))


def test_a_weight_outside_of_every_step_has_no_price():
    steps = quote_ladder(flat([11, 12, 15]), **USUAL)
    assert [price_at(steps, mass) for mass in (10, 11, 13, 15, 16)] == [None, 125, None, 125, None]
    with pytest.raises(ValueError, match="mass must be a finite number, not nan"):
        price_at(steps, float("nan"))


def test_half_a_kilogram_at_an_odd_price_comes_to_a_whole_coin():
    assert amount_of(1001, 0.5, coin=1) == 501
    assert amount_of(1000, 2.5, coin=50) == 2500
    assert amount_of(1001, 1, coin=50) == 1050
