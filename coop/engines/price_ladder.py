"""The cost of a kilogram for one weight after the other, and from which weight on a sale pays."""

from fractions import Fraction
from itertools import pairwise
from typing import NamedTuple

from coop.engines.money import MOST_MASS, exact, positive, whole


class Rung(NamedTuple):
    """Cost of one weight kg of fish, minor units; is_break where another carton, step or minimum begins."""

    mass: Fraction
    cartons: int
    total: int
    per_kilogram: int | None
    is_break: bool


def price_ladder(masses, *, cost):
    """Cost of one weight after the other, with the weights at which the way of charging changes.

    masses   (n,)       kg   of fish, rising, > 0
    cost     callable   –    from kg to `costing.Cost`

    Returns tuple of n Rung; the first is no break.
    Raises ValueError for masses that do not rise, and whatever the callable refuses.
    Source: No source: a break is where the number of cartons changes, or unit or rate of any line.
    """
    masses = tuple(positive("masses", mass, most=MOST_MASS) for mass in masses)
    if any(later <= earlier for earlier, later in pairwise(masses)):
        raise ValueError(f"masses must rise, not {[float(mass) for mass in masses]}")
    rungs, before = [], None
    for mass in masses:
        bill = cost(mass)
        terms = _terms(bill)
        changes = before is not None and terms != before
        rungs.append(Rung(mass, bill.cartons, bill.total, bill.per_kilogram, changes))
        before = terms
    return tuple(rungs)


def break_even_mass(*, fixed, price, variable):
    """Weight from which on a sale covers its cost, where cost rises in a straight line.

    fixed      int   minor units          whatever the weight, ≥ 0
    price      int   minor units a kg     that the buyer pays, ≥ 0
    variable   int   minor units a kg     that each kilogram adds to the cost, ≥ 0

    Returns Fraction kg; None where no weight does.
    Raises ValueError for an amount that is not whole, negative or absurd.
    Source: break-even analysis, fixed / (price − variable), any text on cost accounting.
    """
    fixed, price, variable = whole("fixed", fixed), whole("price", price), whole("variable", variable)
    if price > variable:
        return Fraction(fixed, price - variable)
    return Fraction(0) if not fixed and price == variable else None


def first_mass_that_pays(ladder, *, price):
    """Smallest weight of a ladder at which a kilogram costs no more than the buyer pays.

    ladder   (n,)   –                  Rung
    price    int    minor units a kg   that the buyer pays, ≥ 0

    Returns Fraction kg; None where no weight of the ladder does. A later break may make it cost more again.
    Raises ValueError for a price that is not whole, negative or absurd.
    Source: No source: comparison, since a ladder has jumps and no formula.
    """
    price = whole("price", price)
    pays = (rung.mass for rung in ladder if rung.per_kilogram is not None and rung.per_kilogram <= price)
    return next(pays, None)


def margin_of_markup(markup):
    """Profit as a share of the price, from profit as a share of the cost.

    markup   number   –   profit over cost, ≥ 0

    Returns Fraction, 0 … 1.
    Raises ValueError for a markup that is negative or no number.
    Source: definition, m / (1 + m); any text on pricing.
    """
    markup = exact("markup", markup)
    return markup / (1 + markup)


def markup_of_margin(margin):
    """Profit as a share of the cost, from profit as a share of the price.

    margin   number   –   profit over price, 0 ≤ margin < 1

    Returns Fraction, ≥ 0.
    Raises ValueError for a margin that is negative, 1 or more, or no number.
    Source: definition, m / (1 − m); any text on pricing.
    """
    margin = exact("margin", margin)
    if margin >= 1:
        raise ValueError(f"margin must be below 1, not {float(margin)}")
    return margin / (1 - margin)


def _terms(bill):
    """How a bill charges, without how much: the rate of a share on top is a sum and changes all the time."""
    rates = [
        (line.code, line.name, line.unit, line.unit == "share" or line.rate_minor) for line in bill.lines
    ]
    return bill.cartons, rates
