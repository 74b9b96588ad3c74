"""Whole minor units of a currency, exact quantities, and the lines of a bill.

Every line is rounded once, half up; what is shown as the cost of a kilogram is rounded up.
"""

import math
from datetime import date
from decimal import Decimal
from fractions import Fraction
from numbers import Integral, Rational, Real
from typing import NamedTuple

MOST_MINOR = 10**12
"""Ten thousand million kwacha: beyond it somebody has slipped on the keys."""
MOST_MASS = 100_000
MOST_CARTONS = 10_000


class CostLine(NamedTuple):
    """One line of a bill: amount_minor is quantity × rate_minor, both exact, rounded half up once.

    The quantity is so much for each that is counted; priced_on the day on which the rate was last confirmed,
    None for a rate that is no price.
    """

    code: str
    name: str
    amount_minor: int
    for_each: Fraction
    count: Fraction | int
    unit: str
    rate_minor: Fraction | int
    priced_on: date | None

    @property
    def quantity(self):
        """In units, exact; multiplied only when somebody looks, since a ladder makes thousands of lines."""
        return self.for_each * self.count


def exact(name, value, *, least=0, most=None):
    """A number as a person wrote it, without the error of binary fractions.

    name    str      –   of the argument, for the message
    value   number   –   a float counts as the shortest decimal that gives it: 0.1 is a tenth
    least   number   –   smallest that is right
    most    number   –   largest that is right; None for no limit

    Returns Fraction.
    Raises ValueError that names the argument and the value if it is no finite number or out of range.
    Source: No source: Python's repr of a float is the shortest decimal that reads back as the same float.
    """
    found = value if type(value) is Fraction else _read(name, value)
    # Whole numbers compare several times faster than fractions, and a ladder reads thousands.
    over, under = found.numerator, found.denominator
    if over < least * under or (most is not None and over > most * under):
        span = f"{least} or more" if most is None else f"{least} to {most}"
        raise ValueError(f"{name} must be {span}, not {value}")
    return found


def positive(name, value, *, most):
    """A number greater than 0, read exactly.

    name    str      –   of the argument, for the message
    value   number   –   > 0
    most    number   –   largest that is right

    Returns Fraction.
    Raises ValueError that names the argument and the value if it is 0, negative, too large or no number.
    Source: No source: house rule.
    """
    found = exact(name, value, most=most)
    if not found:
        raise ValueError(f"{name} must be positive, not {value}")
    return found


def whole(name, value, *, least=0, most=MOST_MINOR):
    """A whole number, such as money in minor units or a count of cartons.

    name    str   –   of the argument, for the message
    value   int   –   whole; a float is refused even if it has no decimals
    least   int   –   smallest that is right
    most    int   –   largest that is right

    Returns int.
    Raises ValueError that names the argument and the value if it is not whole or out of range.
    Source: No source: house rule, money is never a float.
    """
    is_whole = type(value) is int or (isinstance(value, Integral) and not isinstance(value, bool))
    if not is_whole or not least <= value <= most:
        raise ValueError(f"{name} must be whole and {least} to {most}, not {value!r}")
    return int(value)


def half_up(value):
    """The nearest whole number; of two that are as near, the greater.

    value   Fraction   minor units   any sign

    Returns int minor units.
    Raises AttributeError for what is no exact number, such as None.
    Source: No source: the one rounding of this project for the lines of a bill; common practice.
    """
    return _half_up(value.numerator, value.denominator)


def rounded_up(value):
    """The smallest whole number that is not below: what a kilogram costs is never shown too low.

    value   Fraction   minor units   any sign

    Returns int minor units.
    Raises AttributeError for what is no exact number, such as None.
    Source: No source: the one rounding of this project for a cost shown per kilogram.
    """
    return -(-value.numerator // value.denominator)


def cost_line(*, code, for_each, unit, rate, priced_on, count=1, name=""):
    """A line of a bill.

    code        str        –             what it is for
    for_each    Fraction   unit          quantity for each that is counted
    unit        str        –             of the quantity
    rate        Fraction   minor units   for one unit, any sign
    priced_on   date       –             on which the rate was last confirmed, or None
    count       Fraction   –             cartons, kilograms or consignments
    name        str        –             as people call it, if it has a name of its own

    Returns CostLine.
    Raises AttributeError for what is no exact number, such as a float.
    Source: No source: quantity × rate, rounded half up once.
    """
    over = for_each.numerator * count.numerator * rate.numerator
    under = for_each.denominator * count.denominator * rate.denominator
    return CostLine(code, name, _half_up(over, under), for_each, count, unit, rate, priced_on)


def _half_up(over, under):
    return (2 * over + under) // (2 * under)


def _read(name, value):
    if isinstance(value, bool) or not isinstance(value, (int, float, Real, Decimal)):
        raise ValueError(f"{name} must be a number, not {value!r}")
    if isinstance(value, Integral):
        return Fraction(int(value))
    if isinstance(value, Rational):
        return Fraction(value)
    if not math.isfinite(value):
        raise ValueError(f"{name} must be a finite number, not {value}")
    return Fraction(*Decimal(str(value)).as_integer_ratio())
