"""What fish loses while it waits in the freezer, and what keeping it cold costs."""

from fractions import Fraction

import numpy as np

from coop.engines.money import MOST_MASS, MOST_MINOR, exact, positive, whole

DAY = 86_400.0
MONTH = 365.25 / 12 * DAY
TEMPERATURES = (-29.0, -21.0, -9.0)
LEAN_MONTHS, FATTY_MONTHS = (8.0, 4.0, 1.0), (6.0, 3.0, 1.0)
"""Months of good quality of gutted white fish and of gutted herring; Love 1967, Tímarit Verkfræðingafélags
Íslands 52, table of storage lives by subjective tests, after Reay, Banks & Cutting 1950."""
LEAN_UP_TO = 0.02
"""Fat in the flesh of lean fish, kg/kg; Ackman 1989, from memory. What is fatter keeps as herring does."""
COLDEST = -60.0


def storage_life(temperature, *, fat):
    """Time for which frozen fish keeps its good quality.

    temperature   (n,)   °C      of the freezer, −60…−9
    fat           (n,)   kg/kg   in the flesh, 0…1

    Returns (n,) s: between the temperatures that were tried the logarithm of the time is linear; colder than
        the coldest of them nothing more is promised.
    Raises ValueError for a temperature or a share out of range: warmer than −9 °C is no storage.
    Source: Love 1967, Tímarit VFÍ 52; the law in between: Love 1962, as the same paper has it.
    """
    temperature = _between("temperature", temperature, COLDEST, TEMPERATURES[-1], "°C")
    fat = _between("fat", fat, 0.0, 1.0, "kg/kg")
    lean, fatty = (
        np.exp(np.interp(temperature, TEMPERATURES, np.log(months))) for months in (LEAN_MONTHS, FATTY_MONTHS)
    )
    return (np.where(fat <= LEAN_UP_TO, lean, fatty) * MONTH)[()]


def life_used(duration, *, temperature, fat):
    """Share of its good life that fish uses up by waiting.

    duration      (n,)   s       ≥ 0
    temperature   (n,)   °C      of the freezer, −60…−9
    fat           (n,)   kg/kg   in the flesh, 0…1

    Returns (n,), 0 for no wait, above 1 for fish that was kept too long.
    Raises ValueError for a duration that is negative or not finite, or another value out of range.
    Source: IIR 1986, Recommendations for the processing and handling of frozen foods (from memory): shares of
        the storage life add up, whatever their order.
    """
    duration = _between("duration", duration, 0.0, np.finfo(float).max, "s")
    return (duration / storage_life(temperature, fat=fat))[()]


def quality_loss(share, *, price_drop):
    """What a kilogram is worth less for the part of its good life that it has used up.

    share        float   –             of its good life, ≥ 0
    price_drop   int     minor units   a kilogram, between fish that was just frozen and fish at the end of it

    Returns Fraction minor units a kilogram, at most the whole drop.
    Raises ValueError for a share that is negative or not finite, or a drop that is not whole.
    Source: No source: common practice; that the price falls evenly, and how far, is the caller's assumption.
    """
    return min(exact("share", float(share)), Fraction(1)) * whole("price_drop", price_drop)


def keeping_cost(*, standing, holds, price):
    """What it costs to keep a kilogram in the freezer for a day.

    standing   float   W             of electricity, to keep cold what is in it
    holds      float   kg            of fish that share it, > 0
    price      int     minor units   a kilowatt-hour, whole

    Returns Fraction minor units a kilogram and day, not rounded.
    Raises ValueError for a power that is negative, a mass that is not positive or a price that is not whole.
    Source: No source: power × 24 h × price, over the kilograms.
    """
    energy = exact("standing", standing) * 24 / 1000
    return energy * whole("price", price, most=MOST_MINOR) / positive("holds", holds, most=10 * MOST_MASS)


def _between(name, values, low, high, unit):
    values = np.asarray(values, float)
    is_right = (values >= low) & (values <= high)
    if not np.all(is_right):
        values, is_right = np.broadcast_arrays(values, is_right)
        raise ValueError(
            f"{name} must be between {low:g} and {high:g} {unit}, not {values[~is_right].flat[0]}"
        )
    return values
