"""The price of a kilogram that a buyer is quoted: by weight, and never below cost with its profit."""

from fractions import Fraction
from itertools import pairwise
from typing import NamedTuple

from coop.engines.money import MOST_MASS, MOST_MINOR, exact, positive, rounded_up, whole
from coop.engines.price_ladder import markup_of_margin


class Rung(NamedTuple):
    """One weight that a buyer may choose, kg, and what it costs delivered, fish and all, minor units.

    sound_mass kg of it arrive sound and are paid for; is_break where it is charged for in another way.
    """

    mass: Fraction
    sound_mass: Fraction
    cost: int
    is_break: bool = False


class Step(NamedTuple):
    """Weights from one to another, both kg and both among them, and the price of a kilogram, minor units."""

    from_mass: Fraction
    to_mass: Fraction
    price: int


def quote_ladder(rungs, *, markup, coin, gap, every):
    """Prices of a kilogram, each for weights that lie together, so that every weight pays for itself.

    rungs    (n,)     –             Rung of each weight that may be chosen, rising
    markup   number   –             profit over cost, ≥ 0
    coin     int      minor units   the smallest coin in use, ≥ 1
    gap      number   kg            weights further apart than this do not lie together, > 0
    every    number   kg            a new price may begin at each multiple of this, and at every break, > 0

    Returns tuple of Step. At every rung price × sound mass ≥ cost × (1 + markup): the dearest sets the price
        of its step. Neighbours of one price are one step.
    Raises ValueError for rungs that do not rise, arrive with nothing sound, or a value that is out of range.
    Source: No source: the least price in whole coins that covers the dearest weight of its step.
    """
    markup, coin = exact("markup", markup, most=1000), whole("coin", coin, least=1)
    gap, every = positive("gap", gap, most=MOST_MASS), positive("every", every, most=MOST_MASS)
    rungs = _read(rungs)
    steps = []
    for number, rung in enumerate(rungs):
        price = _least_price(rung, markup, coin)
        before = rungs[number - 1] if number else None
        if before is None or _begins(rung, before, gap, every):
            steps.append(Step(rung.mass, rung.mass, price))
        else:
            steps[-1] = steps[-1]._replace(to_mass=rung.mass, price=max(price, steps[-1].price))
    return tuple(_merged(steps, gap))


def markup_of(kind, share):
    """Profit as a share of the cost, whichever way it was said.

    kind    str      –   mark_up (profit over cost) or margin (profit over price)
    share   number   –   ≥ 0; a margin below 1

    Returns Fraction, ≥ 0.
    Raises ValueError for another kind, or a share that is out of range or no number.
    Source: definitions, as price_ladder.margin_of_markup; any text on pricing.
    """
    if kind not in ("mark_up", "margin"):
        raise ValueError(f"kind must be mark_up or margin, not {kind!r}")
    return exact("share", share) if kind == "mark_up" else markup_of_margin(share)


def price_at(steps, mass):
    """Price of a kilogram for one weight.

    steps   (n,)     –    Step
    mass    number   kg   > 0

    Returns int minor units a kilogram; None where no step has this weight.
    Raises ValueError for a mass that is not positive, or absurd.
    Source: No source: looking it up.
    """
    mass = positive("mass", mass, most=MOST_MASS)
    return next((step.price for step in steps if step.from_mass <= mass <= step.to_mass), None)


def amount_of(price, mass, *, coin):
    """What so many kilograms come to, in whole coins.

    price   int      minor units a kg   ≥ 0
    mass    number   kg                 > 0
    coin    int      minor units        the smallest coin in use, ≥ 1

    Returns int minor units, rounded up to the coin: half a kilogram at an odd price is never short of it.
    Raises ValueError for a value that is out of range.
    Source: No source: price × mass.
    """
    coin = whole("coin", coin, least=1)
    return coin * rounded_up(whole("price", price) * positive("mass", mass, most=MOST_MASS) / coin)


def _read(rungs):
    found = [
        Rung(
            positive("mass", rung.mass, most=MOST_MASS),
            positive("sound_mass", rung.sound_mass, most=MOST_MASS),
            whole("cost", rung.cost, least=-MOST_MINOR),
            rung.is_break,
        )
        for rung in rungs
    ]
    if any(later.mass <= earlier.mass for earlier, later in pairwise(found)):
        raise ValueError(f"rungs must rise, not {[float(rung.mass) for rung in found]}")
    return found


def _least_price(rung, markup, coin):
    """In whole coins; fish is never paid to be taken, however much comes back with the empties."""
    return max(0, coin * rounded_up(rung.cost * (1 + markup) / rung.sound_mass / coin))


def _begins(rung, before, gap, every):
    apart = rung.mass - before.mass > gap
    # A multiple lies above the one before and not above this one.
    passes = rung.mass // every > before.mass // every
    return rung.is_break or apart or passes


def _merged(steps, gap):
    found = steps[:1]
    for step in steps[1:]:
        last = found[-1]
        if step.price == last.price and step.from_mass - last.to_mass <= gap:
            found[-1] = last._replace(to_mass=step.to_mass)
        else:
            found.append(step)
    return found
