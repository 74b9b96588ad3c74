"""Who travels in which carton, on which departure: the plan of a day at the least cost, with its proof.

Columns are contents of cartons, found by pricing, so the relaxation knows how lots fill cartons; outlines, in
which the numbers of cartons, what is opened and steps are whole, lift its bound. Into the cartons of an
outline whole lots are laid by annealing. Every cost that is told is worked out again from the plan with the
true tariff.
"""

from collections import defaultdict
from fractions import Fraction
from numbers import Real
from typing import NamedTuple

from coop.engines.consolidation_bill import GRAMS, rounding_of
from coop.engines.consolidation_day import reduced
from coop.engines.consolidation_offer import Lot, Offer
from coop.engines.consolidation_rest import Draft
from coop.engines.consolidation_search import Search
from coop.engines.left_behind import LeftBehind, reason_in_plan, standing_reason

MOST_SECONDS = 3600

__all__ = ["Lot", "Offer", "Plan", "PlannedCarton", "plan"]


class PlannedCarton(NamedTuple):
    """A carton of an offer, by its key, and what lies in it: (key of the lot, kg) each."""

    offer: object
    parts: tuple[tuple[object, Fraction], ...]


class Plan(NamedTuple):
    """What travels how, and what that costs.

    bill: minor units of all consignments; cost: with what leaving lots behind counts as, of those that some
    offer could carry; bound: no plan costs less, after the same roundings; gap: (cost − bound) over the bill;
    left_behind: LeftBehind by key of the lot.
    """

    cartons: tuple[PlannedCarton, ...]
    bill: int
    cost: int
    bound: int
    gap: float
    left_behind: dict
    seconds: float


def plan(lots, offers, *, places, may_not_share=(), time_limit, gap, clock):
    """The plan at the least total cost, or the best found in time.

    lots            (n,)       –   Lot, keys unlike
    offers          (m,)       –   Offer, keys unlike; `allowed` has n answers
    places          dict       –   cartons that still find place, by departure
    may_not_share   set        –   pairs of kinds that may not lie in one carton
    time_limit      number     s   by the clock, > 0; the same input gives the same plan unless it, or what
        an outline may take of it, runs out
    gap             number     –   share of the bill within which a plan is good enough, 0 … 1
    clock           callable   s   a steady clock, such as `time.monotonic`

    Returns Plan.
    Raises ValueError that names what cannot be.
    Source: Gilmore & Gomory 1961, Oper. Res. 9:849: contents of cartons as columns; Kirkpatrick, Gelatt &
        Vecchi 1983, Science 220:671: annealing (both from memory).
    """
    began = clock()
    for name, value, most in (("time_limit", time_limit, MOST_SECONDS), ("gap", gap, 1)):
        if isinstance(value, bool) or not isinstance(value, Real) or not 0 <= value <= most:
            raise ValueError(f"{name} must be 0 to {most}, not {value!r}")
    lots, offers = tuple(lots), tuple(offers)
    day = reduced(lots, offers, places=places, may_not_share=may_not_share)
    search = Search(
        day, rounding=_rounding(day), gap=float(gap), clock=clock, until=began + float(time_limit)
    )
    search.run()
    draft = Draft(day, search.ledger, search.cartons)
    bill = search.cost - search.ledger.left(draft.rest)
    return Plan(
        cartons=_named(day, draft.filled),
        bill=bill,
        cost=search.cost,
        bound=search.bound,
        gap=(search.cost - search.bound) / max(bill, 1),
        left_behind=_left(lots, offers, places, day, draft),
        seconds=clock() - began,
    )


def _rounding(day):
    """By how much all bills together may lie below what the programme counts: each rounds its lines once."""
    own = sorted((rounding_of(offer) for offer in day.offers), reverse=True)
    used = min(len(own), sum(day.places), int(sum(day.most_cartons)))
    stays = sum(Fraction(1, 2) for row in range(len(day.classes)) if day.is_divisible(row))
    return sum(own[:used], stays)


def _named(day, filled):
    """Cartons by keys; of lots alike the first come goes first."""
    waiting = [list(group) for group in day.classes]
    return tuple(
        PlannedCarton(day.offers[carton.offer].key, tuple(_parts(day, carton, waiting))) for carton in filled
    )


def _parts(day, carton, waiting):
    for row, count in enumerate(carton.counts):
        if day.is_divisible(row) and count:
            grams = int(day.contents.mass[row]) + carton.extra[row]
            yield day.lots[waiting[row][0]].key, Fraction(grams, GRAMS)
            continue
        for _ in range(count):
            lot = day.lots[waiting[row].pop(0)]
            yield lot.key, lot.mass


def _left(lots, offers, places, day, draft):
    """Each lot, or the rest of one, that stays, with the reason."""
    class_of = {number: row for row, group in enumerate(day.classes) for number in group}
    kinds = [lots[group[0]].kind for group in day.classes]
    left = {row: int(draft.rest.lots[row]) for row in range(len(day.classes))}
    gone = defaultdict(int)
    found = {}
    for number, lot in enumerate(lots):
        if number not in class_of:
            found[lot.key] = LeftBehind(lot.mass, *standing_reason(lot, offers, number=number, places=places))
            continue
        row = class_of[number]
        if day.is_divisible(row):
            mass = Fraction(int(draft.rest.grams[row]), GRAMS)
        else:
            gone[row] += 1
            mass = lot.mass if gone[row] > len(day.classes[row]) - left[row] else Fraction(0)
        if mass:
            found[lot.key] = LeftBehind(mass, *reason_in_plan(draft, row, kinds))
    return found
