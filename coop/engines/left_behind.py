"""Why a lot stays at home: the first thing that keeps it from every departure, with its figures."""

from typing import NamedTuple

import numpy as np

from coop.engines.consolidation_bill import GRAMS


class LeftBehind(NamedTuple):
    """mass kg that stays, a code, and its figures by name, each with its unit."""

    mass: object
    code: str
    values: dict


def standing_reason(lot, offers, *, number, places):
    """Why no offer may carry a lot, whatever else is planned.

    lot      Lot      –
    offers   (m,)     –   Offer
    number   int      –   place of the lot in their `allowed`
    places   dict     –   cartons that still find place, by departure

    Returns (code, values): no_departure, or the first of not_ready, misses_deadline, not_safe, too_heavy,
        too_bulky and no_room that leaves no offer; None if some may carry it.
    Raises KeyError for a departure without places.
    Source: No source: conditions are asked one after the other, each of the offers that kept all before it.
    """
    if not offers:
        return "no_departure", {}
    part = lot.least_part if lot.is_divisible else lot.mass
    bulk = (lot.volume or 0) * part / lot.mass
    conditions = (
        ("not_ready", lambda o: lot.ready_at <= o.closes_at, lambda rest: _ready(lot, rest)),
        ("misses_deadline", lambda o: o.hands_over_by <= lot.deadline, lambda rest: _deadline(lot, rest)),
        ("not_safe", lambda o: o.allowed[number], lambda rest: {}),
        ("too_heavy", lambda o: part <= o.capacity, lambda rest: _heavy(part, rest)),
        ("too_bulky", lambda o: o.volume is None or bulk <= o.volume, lambda rest: _bulky(bulk, rest)),
        ("no_room", lambda o: places[o.departure] >= o.places, lambda rest: _room(rest, places)),
    )
    rest = offers
    for code, holds, values in conditions:
        kept = [offer for offer in rest if holds(offer)]
        if not kept:
            return code, values(rest)
        rest = kept
    return None


def reason_in_plan(draft, row, kinds):
    """Why a class of lots that some offer may carry is left by a plan.

    draft   Draft   –   the plan, to which nothing can be added that pays
    row     int     –   number of the class
    kinds   (c,)    –   kind of each class

    Returns (code, values): costs_more_than_worth where a way is left; else too_little_to_stay_hard or
        may_not_share if that alone bars every way; else no_room.
    Raises IndexError for a class that the day does not know.
    Source: No source: each condition is dropped alone, and the way is looked for again.
    """
    way = draft.cheapest(row)
    if way is not None:
        worth = draft.worth(row, way.grams)
        figures = {"cost_minor": way.cost, "worth_minor": worth, "mass_kg": way.grams / GRAMS}
        return "costs_more_than_worth", figures
    low = draft.cheapest(row, may_start_low=True)
    if low is not None:
        least = draft.day.rooms[low.offer].least
        return "too_little_to_stay_hard", {"mass_kg": low.grams / GRAMS, "least_mass_kg": least / GRAMS}
    friendly = draft.without_clashes()
    way = friendly.cheapest(row)
    if way is not None:
        inside = np.flatnonzero(draft.filled[way.carton].counts).tolist()
        return "may_not_share", {"kinds": sorted({kinds[other] for other in inside})}
    return "no_room", {"places_left": 0, "most_kg": _most_room(draft, row) / GRAMS}


def _most_room(draft, row):
    """g that are still free in the emptiest carton that may carry the class."""
    rooms = [draft.room(carton) for carton in draft.filled if draft.day.carries[carton.offer, row]]
    return max(rooms, default=0)


def _room(offers, places):
    return {"places_left": max(places[offer.departure] for offer in offers)}


def _ready(lot, offers):
    return {"ready_at": lot.ready_at, "last_closing": max(offer.closes_at for offer in offers)}


def _deadline(lot, offers):
    return {"deadline": lot.deadline, "earliest_hand_over": min(offer.hands_over_by for offer in offers)}


def _heavy(part, offers):
    return {"mass_kg": float(part), "most_kg": float(max(offer.capacity for offer in offers))}


def _bulky(bulk, offers):
    return {"volume_m3": float(bulk), "most_m3": float(max(offer.volume for offer in offers))}
