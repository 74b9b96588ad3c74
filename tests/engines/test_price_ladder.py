from datetime import date
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coop.engines.costing import Item, Softening, cost
from coop.engines.price_ladder import (
    break_even_mass,
    first_mass_that_pays,
    margin_of_markup,
    markup_of_margin,
    price_ladder,
)
from coop.engines.tariff import ByStep, Consignment, PerCarton, PerKilogram, Surcharge, Tariff, fare

DAY = date(2026, 3, 10)
CAPACITY = 100
SIDES = {"outer_length": 1.0, "outer_width": 0.7, "outer_height": 0.7}
FISH = Item(code="fish", basis="kilogram", rate=4500)
PAPERS = Item(code="papers", basis="consignment", rate=60_000)
SOFTENING = Softening(share=0.004, hard_price=7000, soft_price=4000)


def billed_by(*rules, items=(FISH, PAPERS)):
    tariff = Tariff(rules=rules, valid_from=DAY)

    def bill(mass):
        cartons = -(-mass // CAPACITY)
        carried = Consignment(gross_mass=mass, cartons=cartons, **SIDES)
        paid = fare(tariff, consignment=carried, on=DAY)
        return cost(mass=mass, cartons=cartons, items=items, fare=paid, softening=SOFTENING)

    return bill


def breaks(ladder):
    return [int(rung.mass) for rung in ladder if rung.is_break]


def test_a_ladder_breaks_where_another_carton_begins():
    ladder = price_ladder(range(1, 301), cost=billed_by(PerCarton(amount=5000)))
    assert breaks(ladder) == [101, 201]
    assert [rung.cartons for rung in ladder if rung.is_break] == [2, 3]


def test_a_ladder_breaks_at_the_borders_of_steps_and_the_end_of_minimums():
    rules = [ByStep(steps=((0, 9000), (50, 15_000))), PerKilogram(amount=250, minimum_mass=10)]
    ladder = price_ladder(range(1, 101), cost=billed_by(*rules, Surcharge(share=0.1)))
    assert breaks(ladder) == [10, 50]
    assert breaks(
        price_ladder(range(1, 101), cost=billed_by(PerKilogram(amount=250, minimum_charge=5000)))
    ) == [20]


def test_between_breaks_a_kilogram_never_gets_dearer():
    ladder = price_ladder(range(1, 301), cost=billed_by(PerCarton(amount=5000), PerKilogram(amount=250)))
    for lower, upper in pairwise(ladder):
        if not upper.is_break:
            assert upper.per_kilogram <= lower.per_kilogram
    dearer = [int(b.mass) for a, b in pairwise(ladder) if b.per_kilogram > a.per_kilogram]
    assert dearer == [101, 201]


@given(st.lists(st.integers(0, 10**6), min_size=1, max_size=6), st.integers(0, 10**4), st.integers(0, 10**6))
def test_no_heavier_consignment_costs_less_in_all_where_no_step_falls(amounts, rate, minimum):
    steps = tuple((17 * place, amount) for place, amount in enumerate(sorted(amounts)))
    bill = billed_by(
        ByStep(steps=steps), PerKilogram(amount=rate, minimum_charge=minimum), PerCarton(amount=rate)
    )
    totals = [rung.total for rung in price_ladder(range(1, 130, 4), cost=bill)]
    assert totals == sorted(totals)


def test_each_rung_is_the_bill_of_its_weight():
    bill = billed_by(PerCarton(amount=5000))
    for rung in price_ladder([0.5, 99.9, 100, 100.1], cost=bill):
        whole = bill(rung.mass)
        assert (rung.cartons, rung.total, rung.per_kilogram) == (
            whole.cartons,
            whole.total,
            whole.per_kilogram,
        )


def test_the_first_weight_is_no_break_and_a_ladder_may_be_empty():
    bill = billed_by(PerCarton(amount=5000))
    assert not price_ladder([101], cost=bill)[0].is_break
    assert price_ladder([], cost=bill) == ()


@pytest.mark.parametrize(
    ("masses", "message"),
    [
        ([1, 1], r"masses must rise, not \[1\.0, 1\.0\]"),
        ([2, 1], r"masses must rise, not \[2\.0, 1\.0\]"),
        ([0, 1], "masses must be positive, not 0"),
        ([-1], "masses must be 0 to 100000, not -1"),
        ([float("nan")], "masses must be a finite number, not nan"),
        ([1e9], r"masses must be 0 to 100000, not 1000000000\.0"),
    ],
)
def test_weights_out_of_order_or_range_are_refused(masses, message):
    with pytest.raises(ValueError, match=message):
        price_ladder(masses, cost=billed_by(PerCarton(amount=5000)))


def test_fixed_60_000_at_12_000_against_9_000_breaks_even_at_20_kg():
    # Break-even of the reference, §8.
    assert break_even_mass(fixed=60_000, price=12_000, variable=9_000) == 20


@given(st.integers(0, 10**7), st.integers(0, 10**5), st.integers(0, 10**5))
def test_at_the_break_even_weight_sales_just_cover_the_cost(fixed, price, variable):
    mass = break_even_mass(fixed=fixed, price=price, variable=variable)
    if mass is None:
        assert price <= variable
        return
    assert price * mass == fixed + variable * mass


@pytest.mark.parametrize(("fixed", "price"), [(1, 9000), (60_000, 8999), (0, 8999)])
def test_a_price_that_adds_nothing_never_breaks_even(fixed, price):
    assert break_even_mass(fixed=fixed, price=price, variable=9000) is None


@pytest.mark.parametrize("name", ["fixed", "price", "variable"])
@pytest.mark.parametrize("value", [-1, 1.5, float("nan"), 10**13])
def test_an_amount_that_is_no_money_is_refused_by_name_and_value(name, value):
    with pytest.raises(ValueError, match=f"{name} must be whole and 0 to 1000000000000, not {value}"):
        break_even_mass(**{"fixed": 1, "price": 2, "variable": 1, name: value})


def test_the_first_weight_that_pays_agrees_with_break_even_where_cost_is_a_straight_line():
    items = [PAPERS, Item(code="fish", basis="kilogram", rate=9000)]
    ladder = price_ladder(range(1, 60), cost=lambda mass: cost(mass=mass, cartons=1, items=items))
    assert first_mass_that_pays(ladder, price=12_000) == break_even_mass(
        fixed=60_000, price=12_000, variable=9000
    )


def test_no_weight_pays_below_the_cost_of_every_kilogram():
    ladder = price_ladder(range(1, 60), cost=billed_by(PerCarton(amount=5000)))
    assert first_mass_that_pays(ladder, price=4500) is None
    with pytest.raises(ValueError, match=r"price must be whole .*, not -1"):
        first_mass_that_pays(ladder, price=-1)


def test_a_markup_of_25_percent_is_a_margin_of_20_percent():
    # Reference, §8.
    assert margin_of_markup(0.25) == Fraction(1, 5)
    assert markup_of_margin(0.2) == Fraction(1, 4)


@given(st.fractions(min_value=0, max_value=50, max_denominator=1000))
def test_markup_and_margin_undo_each_other(markup):
    assert markup_of_margin(margin_of_markup(markup)) == markup


@pytest.mark.parametrize("value", [-0.1, float("nan"), float("inf")])
def test_a_markup_or_margin_out_of_range_is_refused(value):
    with pytest.raises(ValueError, match=f"markup must be .*, not {value}"):
        margin_of_markup(value)
    with pytest.raises(ValueError, match=f"margin must be .*, not {value}"):
        markup_of_margin(value)


def test_a_margin_of_the_whole_price_is_refused():
    with pytest.raises(ValueError, match=r"margin must be below 1, not 1\.0"):
        markup_of_margin(1)
