from fractions import Fraction

import numpy as np
import pytest

from coop.engines.carton_choice import cheapest_carton_count, cheapest_insulation_thickness, fewest_cartons
from coop.engines.costing import Item, Softening, cost

FISH = Item(code="fish", basis="kilogram", rate=4500)
CARTON = Item(code="material", basis="carton", rate=6000)
OUTER = (1.0, 0.7, 0.7)
STOWAGE = 500


@pytest.mark.parametrize(
    ("mass", "capacity", "cartons"),
    [(1, 100, 1), (100, 100, 1), (100.1, 100, 2), (0.3, 0.1, 3), (250, 100, 3)],
)
def test_the_fewest_cartons_are_those_that_hold_the_fish(mass, capacity, cartons):
    assert fewest_cartons(mass, capacity=capacity) == cartons


def test_where_every_carton_costs_the_fewest_are_cheapest():
    found = cheapest_carton_count(
        150, capacity=100, most=6, cost=lambda count: cost(mass=150, cartons=count, items=[FISH, CARTON])
    )
    assert found.cartons == 2
    assert found.cost.total == 150 * 4500 + 2 * 6000


def test_one_more_carton_is_cheaper_where_a_fuller_one_pays_a_dearer_step():
    def bill(count):
        heavy = 30_000 if Fraction(150, count) > 60 else 8000
        step = Item(code="handling", basis="carton", rate=heavy)
        return cost(mass=150, cartons=count, items=[FISH, CARTON, step])

    by_hand = {count: count * (6000 + (30_000 if 150 / count > 60 else 8000)) for count in range(2, 7)}
    found = cheapest_carton_count(150, capacity=100, most=6, cost=bill)
    assert found.cartons == min(by_hand, key=by_hand.get) == 3


def test_of_two_counts_that_cost_the_same_the_fewer_is_taken():
    same = cheapest_carton_count(
        150, capacity=100, most=6, cost=lambda count: cost(mass=150, cartons=count, items=[FISH])
    )
    assert same.cartons == 2


def test_a_count_in_which_nothing_sound_arrives_is_never_cheapest():
    def bill(count):
        share = 1 if count == 2 else 0.1
        return cost(mass=150, cartons=count, items=[FISH, CARTON], softening=Softening(share=share))

    assert cheapest_carton_count(150, capacity=100, most=4, cost=bill).cartons == 3


@pytest.mark.parametrize("most", [1, 0, 2.5, 10_001])
def test_places_for_too_few_cartons_are_refused(most):
    with pytest.raises(ValueError, match=f"most must be whole and 2 to 10000, not {most}"):
        cheapest_carton_count(150, capacity=100, most=most, cost=lambda count: None)


@pytest.mark.parametrize("value", [0, -1, float("nan"), 1e9])
@pytest.mark.parametrize("name", ["mass", "capacity"])
def test_a_mass_or_capacity_out_of_range_is_refused_by_name_and_value(name, value):
    given = {"mass": 150, "capacity": 100, name: value}
    with pytest.raises(ValueError, match=f"{name} must be .*, not "):
        fewest_cartons(given["mass"], capacity=given["capacity"])


def full_carton(thickness):
    """A full carton whose softened share halves with each centimetre of wall."""
    sides = [side - 2 * thickness for side in OUTER]
    if min(sides) <= 0:
        return None
    mass = round(STOWAGE * float(np.prod(sides)), 3)
    softening = Softening(share=round(0.5 ** (100 * thickness), 9), hard_price=7000, soft_price=2000)
    return cost(mass=mass, cartons=1, items=[FISH, CARTON], softening=softening)


def test_the_thickness_that_is_found_is_the_least_of_all_tried_and_lies_between_thin_and_thick():
    tried = np.round(np.arange(0.0, 0.36, 0.005), 3)
    found = cheapest_insulation_thickness(tried, cost=full_carton)
    bills = {float(t): full_carton(float(t)) for t in tried if full_carton(float(t))}
    assert found.cost.per_kilogram == min(bill.per_kilogram for bill in bills.values())
    assert 0.02 < found.thickness < 0.2
    thin, thick = bills[0.0], bills[0.345]
    assert found.cost.per_kilogram < min(thin.per_kilogram, thick.per_kilogram)


def test_where_nothing_softens_the_thinnest_wall_is_cheapest():
    def bill(thickness):
        mass = STOWAGE * float(np.prod([side - 2 * thickness for side in OUTER]))
        return cost(mass=round(mass, 3), cartons=1, items=[FISH, CARTON])

    assert cheapest_insulation_thickness([0.1, 0.02, 0.05], cost=bill).thickness == 0.02


def test_of_two_thicknesses_that_cost_the_same_the_thinner_is_taken():
    bill = cost(mass=50, cartons=1, items=[FISH])
    assert cheapest_insulation_thickness([0.1, 0.02, 0.05], cost=lambda thickness: bill).thickness == 0.02


def test_walls_that_leave_no_room_are_passed_over():
    assert cheapest_insulation_thickness([0.1, 0.4], cost=full_carton).thickness == 0.1
    assert cheapest_insulation_thickness([0.4, 0.5], cost=full_carton) is None


@pytest.mark.parametrize(
    ("thicknesses", "message"),
    [
        ([], "thicknesses must be one or more"),
        ([0.1, -0.1], r"thicknesses must be .*, not -0\.1"),
        ([float("nan")], "thicknesses must be a finite number, not nan"),
        ([3.0], r"thicknesses must be 0 to 1, not 3\.0"),
    ],
)
def test_thicknesses_out_of_range_are_refused(thicknesses, message):
    with pytest.raises(ValueError, match=message):
        cheapest_insulation_thickness(thicknesses, cost=full_carton)
