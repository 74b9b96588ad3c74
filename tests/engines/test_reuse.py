from fractions import Fraction

import numpy as np
import pytest

from coop.engines.reuse import equivalent_annual_cost, expected_uses, returnable_against_one_way

BOX = {
    "box_price": 90_000,
    "trips": 30,
    "loss_chance": 0.05,
    "return_fare": 3000,
    "one_way_price": 12_000,
    "care": 500,
}


def test_100_000_over_3_years_at_5_percent_is_36_720_86_a_year():
    # Equivalent annual cost of the reference, §8, here in minor units of two decimals.
    assert equivalent_annual_cost(price=10_000_000, years=3, interest=0.05) == 3_672_086


@pytest.mark.parametrize(("years", "interest"), [(1, 0.2), (7, 0.12), (40, 0.03)])
def test_the_yearly_amount_repays_the_purchase_with_its_interest(years, interest):
    owed = price = 10**9
    yearly = equivalent_annual_cost(price=price, years=years, interest=interest)
    for _ in range(years):
        owed = owed * (1 + interest) - yearly
    # Half a minor unit of rounding a year, with interest upon it.
    assert owed == pytest.approx(0, abs=0.5 * ((1 + interest) ** years - 1) / interest + 1e-3)


def test_without_interest_the_price_is_shared_out_over_the_years():
    assert equivalent_annual_cost(price=1000, years=3, interest=0) == 333


@pytest.mark.parametrize(
    ("trips", "chance", "uses"), [(20, 0, 20), (1, 0.9, 1), (50, 1, 1), (2, 0.5, Fraction(3, 2))]
)
def test_a_box_makes_as_many_trips_as_can_be_counted_by_hand(trips, chance, uses):
    assert expected_uses(trips=trips, loss_chance=chance) == uses


@pytest.mark.parametrize(("trips", "chance"), [(10, 0.1), (40, 0.03), (200, 0.02)])
def test_a_box_makes_as_many_trips_as_the_chances_of_each_trip_sum_to(trips, chance):
    by_trip = sum((1 - Fraction(str(chance))) ** earlier for earlier in range(trips))
    assert expected_uses(trips=trips, loss_chance=chance) == by_trip


def test_a_fleet_of_boxes_costs_on_each_trip_what_the_mean_says():
    rng = np.random.default_rng(8)
    lives = np.minimum(rng.geometric(0.05, 200_000), 30)
    came_back = lives - (lives < 30) - (rng.random(lives.size) < 0.05) * (lives == 30)
    paid = 90_000 * lives.size + 3500 * came_back.sum()
    found = returnable_against_one_way(**BOX)
    error = 90_000 / lives.mean() * lives.std() / lives.mean() / np.sqrt(lives.size)
    assert float(found.box) == pytest.approx(paid / lives.sum(), abs=4 * error)


def test_box_and_carton_are_compared_by_the_trip():
    found = returnable_against_one_way(**{**BOX, "loss_chance": 0})
    assert (found.box, found.one_way, found.saving) == (6500, 12_000, 5500)
    # 90 000 over n trips is no more than 12 000 − 3 500 from n = 11 on.
    assert found.least_trips == 11


def test_a_dear_box_must_last_long_and_one_that_would_have_to_last_too_long_never_pays():
    # 800 000 / 8500 is a little over 94; 8 500 001 / 8500 a little over 1000, more than any box lasts.
    figures = {**BOX, "loss_chance": 0}
    assert returnable_against_one_way(**{**figures, "box_price": 800_000}).least_trips == 95
    assert returnable_against_one_way(**{**figures, "box_price": 8_500_000}).least_trips == 1000
    assert returnable_against_one_way(**{**figures, "box_price": 8_500_001}).least_trips is None


@pytest.mark.parametrize("chance", [0, 0.01, 0.05, 0.09])
def test_from_the_least_trips_on_the_box_is_no_dearer_and_one_trip_less_it_is(chance):
    least = returnable_against_one_way(**{**BOX, "loss_chance": chance}).least_trips
    at, before = (
        returnable_against_one_way(**{**BOX, "loss_chance": chance, "trips": trips})
        for trips in (least, least - 1)
    )
    assert at.saving >= 0 > before.saving


@pytest.mark.parametrize("changes", [{"loss_chance": 0.2}, {"return_fare": 20_000}, {"one_way_price": 0}])
def test_a_box_that_gets_lost_too_often_or_comes_back_too_dear_never_pays(changes):
    found = returnable_against_one_way(**{**BOX, **changes})
    assert found.least_trips is None
    assert found.saving < 0


def test_a_box_that_is_cheaper_than_a_carton_pays_on_the_first_trip():
    found = returnable_against_one_way(**{**BOX, "box_price": 1000, "loss_chance": 1})
    assert (found.box, found.least_trips) == (1000, 1)


def test_a_box_more_often_lost_costs_more_a_trip_where_its_return_is_cheap():
    costs = [
        returnable_against_one_way(**{**BOX, "return_fare": 0, "loss_chance": chance}).box
        for chance in (0, 0.02, 0.1, 0.5)
    ]
    assert costs == sorted(costs)


@pytest.mark.parametrize("value", [-1, 1.5, float("nan"), 10**13])
@pytest.mark.parametrize("name", ["box_price", "trips", "return_fare", "one_way_price", "care"])
def test_figures_of_a_box_out_of_range_are_refused_by_name_and_value(name, value):
    with pytest.raises(ValueError, match=f"{name} must be whole .*, not {value}"):
        returnable_against_one_way(**{**BOX, name: value})


@pytest.mark.parametrize("chance", [-0.1, 1.1, float("nan")])
def test_a_chance_out_of_range_is_refused(chance):
    with pytest.raises(ValueError, match=f"loss_chance must be .*, not {chance}"):
        expected_uses(trips=3, loss_chance=chance)


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("price", -1),
        ("price", 1.5),
        ("years", 0),
        ("years", 101),
        ("interest", -0.1),
        ("interest", float("nan")),
    ],
)
def test_a_purchase_out_of_range_is_refused_by_name_and_value(name, value):
    with pytest.raises(ValueError, match=f"{name} must be .*, not {value}"):
        equivalent_annual_cost(**{"price": 1, "years": 1, "interest": 0, name: value})
