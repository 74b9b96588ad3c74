"""Which cartons cost least: how many of them, and how thick their insulation."""

from fractions import Fraction
from typing import NamedTuple

from coop.engines.money import MOST_CARTONS, MOST_MASS, positive, whole


class CartonCount(NamedTuple):
    """How many cartons, and their bill as `costing.Cost`."""

    cartons: int
    cost: object


class Thickness(NamedTuple):
    """How thick, m, and the bill of a carton so built as `costing.Cost`."""

    thickness: float
    cost: object


def fewest_cartons(mass, *, capacity):
    """Cartons that hold the fish.

    mass       number   kg   of fish, > 0
    capacity   number   kg   of fish that one carton holds, > 0

    Returns int.
    Raises ValueError for a mass or capacity that is not positive, or absurd.
    Source: No source: division, rounded up.
    """
    mass, capacity = (
        positive(name, value, most=MOST_MASS) for name, value in (("mass", mass), ("capacity", capacity))
    )
    return -(-mass // capacity)


def cheapest_carton_count(mass, *, capacity, most, cost):
    """Number of cartons with the least cost of a sound kilogram, the fish being shared out evenly.

    mass       number     kg   of fish, > 0
    capacity   number     kg   of fish that one carton holds, > 0
    most       int        –    cartons that there is place for, enough for the mass
    cost       callable   –    from a number of cartons to `costing.Cost`

    Returns CartonCount; of two that cost the same, the fewer.
    Raises ValueError for most that does not hold the mass, and as fewest_cartons.
    Source: No source: trying each; a fuller carton shares its fare, an emptier one may escape a step.
    """
    fewest = fewest_cartons(mass, capacity=capacity)
    most = whole("most", most, least=fewest, most=MOST_CARTONS)
    return min((CartonCount(count, cost(count)) for count in range(fewest, most + 1)), key=_dearness)


def cheapest_insulation_thickness(thicknesses, *, cost):
    """Thickness with the least cost of a sound kilogram: more insulation saves fish and leaves room for less.

    thicknesses   (n,)       m   that can be built, n ≥ 1, ≥ 0
    cost          callable   –   from m to `costing.Cost` of a full carton so built; None where no fish fits

    Returns Thickness; of two that cost the same, the thinner. None where no fish fits at any.
    Raises ValueError where there is no thickness or one is negative or no number.
    Source: No source: trying each.
    """
    tried = sorted(float(positive("thicknesses", value, most=1)) if value else 0.0 for value in thicknesses)
    if not tried:
        raise ValueError(f"thicknesses must be one or more, not {thicknesses}")
    built = [Thickness(thickness, cost(thickness)) for thickness in tried]
    return min((choice for choice in built if choice.cost is not None), key=_dearness, default=None)


def _dearness(choice):
    """Cost of a sound kilogram, exact; dearer than anything where nothing sound arrives."""
    bill = choice.cost
    return (not bill.sound_mass, Fraction(bill.total) / bill.sound_mass if bill.sound_mass else 0)
