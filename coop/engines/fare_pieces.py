"""A tariff as straight pieces over cartons and gross mass, which a linear programme can take whole.

Minimums are the greater of two straight lines, so two lower bounds say them; only steps need a choice, one
binary a step with its own borders. Nothing needs a large constant.
"""

from fractions import Fraction
from itertools import pairwise
from typing import NamedTuple

from coop.engines.money import MOST_MASS, exact, rounded_up
from coop.engines.tariff import (
    ByStep,
    PerCarton,
    PerKilogram,
    PerSeat,
    PerVolume,
    PerVolumetricKilogram,
    ReturnOfEmpty,
    Surcharge,
    volumetric_mass,
)

HALF = Fraction(1, 2)


class Floor(NamedTuple):
    """max(least, per_carton × cartons, per_kilogram × gross mass), minor units."""

    least: Fraction
    per_carton: Fraction = Fraction(0)
    per_kilogram: Fraction = Fraction(0)


class WholeKilograms(NamedTuple):
    """max(least, rate × the greater of gross mass and by_volume kg × cartons, rounded up to a whole kg)."""

    least: Fraction
    rate: Fraction
    by_volume: Fraction


class Piece(NamedTuple):
    """For a gross mass kg of from_mass or more, below until_mass: fixed + per_kilogram × gross mass."""

    from_mass: Fraction
    until_mass: Fraction
    fixed: Fraction
    per_kilogram: Fraction


class FarePieces(NamedTuple):
    """What a consignment of cartons costs: per_carton × cartons + one piece + all floors, minor units.

    rounding is by how much the bill, rounded line by line, may lie above or below that.
    """

    per_carton: Fraction
    pieces: tuple[Piece, ...]
    floors: tuple[Floor, ...]
    whole_kilograms: tuple[WholeKilograms, ...]
    rounding: Fraction


NOTHING = FarePieces(
    Fraction(0), (Piece(Fraction(0), Fraction(MOST_MASS + 1), *2 * (Fraction(0),)),), (), (), Fraction(0)
)


def fare_pieces(tariff, *, sides, on, empties=0):
    """What a carrier takes, as straight pieces.

    tariff    Tariff   –          None for what travels free
    sides     (3,)     m          outer length, width, height of one carton, > 0
    on        date     –          day of departure
    empties   number   a carton   boxes brought back, 0 … 1

    Returns FarePieces; it lies within its rounding of `tariff.fare` for every consignment.
    Raises ValueError for sides or empties that cannot be, or shares on top that turn the sum negative.
    Source: Balas 1985, Disjunctive programming and a hierarchy of relaxations, SIAM J. Algebr. Discrete
        Methods 6:466 (from memory): steps as a choice of pieces, each with its own borders.
    """
    if tariff is None:
        return NOTHING
    shares = [rule.share for rule in tariff.rules if isinstance(rule, Surcharge) and _counts(rule, on)]
    factor = 1 + sum(shares)
    if factor < 0:
        raise ValueError(f"tariff must not take off more than everything, as its shares {shares} do")
    empties = exact("empties", empties, most=1)
    parts = [_part(rule, sides, empties) for rule in tariff.rules if not isinstance(rule, Surcharge)]
    lines = sum(part.rounding for part in parts) * (1 + sum(abs(share) for share in shares))
    on_top = sum(HALF for share in shares if share.denominator != 1 or lines)
    return FarePieces(
        per_carton=factor * sum(part.per_carton for part in parts),
        pieces=_summed([part.pieces for part in parts], factor),
        floors=tuple(Floor(*(factor * value for value in floor)) for part in parts for floor in part.floors),
        whole_kilograms=tuple(
            WholeKilograms(factor * least, factor * rate, by_volume)
            for part in parts
            for least, rate, by_volume in part.whole_kilograms
        ),
        rounding=lines + on_top,
    )


def pieces_cost(pieces, *, cartons, gross_mass):
    """What the pieces say that a consignment costs, before each line is rounded.

    pieces       FarePieces   –
    cartons      int          –    1 or more
    gross_mass   number       kg   of all cartons, ≥ 0

    Returns Fraction minor units; a float of the same if gross_mass is one.
    Raises StopIteration for a mass beyond every piece.
    Source: No source: it adds the pieces up.
    """
    piece = next(piece for piece in pieces.pieces if gross_mass < piece.until_mass)
    cost = pieces.per_carton * cartons + piece.fixed + piece.per_kilogram * gross_mass
    for least, per_carton, per_kilogram in pieces.floors:
        cost += max(least, per_carton * cartons, per_kilogram * gross_mass)
    for least, rate, by_volume in pieces.whole_kilograms:
        cost += max(least, rate * max(-(-gross_mass // 1), -(-by_volume * cartons // 1)))
    return cost


def _counts(surcharge, on):
    return not surcharge.months or on.month in surcharge.months


def _part(rule, sides, empties):
    """One rule alone; its kind decides what it counts."""
    if isinstance(rule, ByStep):
        return _by_step(rule)
    if isinstance(rule, PerVolumetricKilogram):
        least = max(Fraction(rule.minimum_charge), Fraction(rule.amount * rounded_up(rule.minimum_mass)))
        charge = WholeKilograms(least, Fraction(rule.amount), volumetric_mass(sides, divisor=rule.divisor))
        return NOTHING._replace(whole_kilograms=(charge,))
    if isinstance(rule, PerKilogram):
        least = max(Fraction(rule.minimum_charge), rule.amount * rule.minimum_mass)
        if not least:
            everywhere = NOTHING.pieces[0]._replace(per_kilogram=Fraction(rule.amount))
            return NOTHING._replace(pieces=(everywhere,), rounding=HALF)
        return NOTHING._replace(floors=(Floor(least, per_kilogram=Fraction(rule.amount)),), rounding=HALF)
    return _each_carton(rule, _units_a_carton(rule, sides, empties))


def _units_a_carton(rule, sides, empties):
    if isinstance(rule, PerCarton):
        return Fraction(1)
    if isinstance(rule, PerSeat):
        return Fraction(rule.seats_per_carton)
    if isinstance(rule, ReturnOfEmpty):
        return empties
    if isinstance(rule, PerVolume):
        length, width, height = (exact("sides", side) for side in sides)
        return length * width * height
    raise ValueError(f"tariff must hold rules of known kinds, not {rule}")


def _each_carton(rule, units):
    """So many units a carton; boxes that nobody brings back cost no minimum either."""
    rate = rule.amount * units
    rounding = HALF if rate.denominator != 1 else Fraction(0)
    if rule.minimum_charge <= rate or not units:
        return NOTHING._replace(per_carton=rate, rounding=rounding)
    return NOTHING._replace(
        floors=(Floor(Fraction(rule.minimum_charge), per_carton=rate),), rounding=rounding
    )


def _by_step(rule):
    """A piece a step, and one more where a rate a kilogram begins to exceed the minimum charge."""
    ends = [*(step.from_mass for step in rule.steps[1:]), Fraction(MOST_MASS + 1)]
    pieces = []
    for (start, amount), end in zip(rule.steps, ends, strict=True):
        least = Fraction(rule.minimum_charge)
        if not rule.per_kilogram:
            pieces.append(Piece(start, end, max(least, Fraction(amount)), Fraction(0)))
            continue
        turn = min(max(least / amount if amount else end, start), end)
        pieces.append(Piece(start, turn, least, Fraction(0)))
        pieces.append(Piece(turn, end, Fraction(0), Fraction(amount)))
    kept = tuple(piece for piece in pieces if piece.from_mass < piece.until_mass)
    return NOTHING._replace(pieces=kept, rounding=HALF if rule.per_kilogram else Fraction(0))


def _summed(choices, factor):
    """The sum of several step functions: a piece from each border of any of them to the next."""
    borders = sorted({border for pieces in choices for piece in pieces for border in piece[:2]})
    return tuple(_joint(choices, start, end, factor) for start, end in pairwise(borders))


def _joint(choices, start, end, factor):
    here = [next(piece for piece in pieces if start < piece.until_mass) for pieces in choices]
    fixed, per_kilogram = (factor * sum(getattr(piece, name) for piece in here) for name in Piece._fields[2:])
    return Piece(start, end, fixed, per_kilogram)
