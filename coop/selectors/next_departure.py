"""What is offered to somebody for whom a parcel has no room: the next departure that would take the fish."""

import math
from dataclasses import dataclass
from datetime import datetime, timedelta

from coop.errors import Conflict, Invalid
from coop.models import Carrier, Parcel
from coop.selectors.buyers import buyers_of
from coop.selectors.cartons import carton_designs_of
from coop.selectors.departure_slots import Question
from coop.selectors.departures import departures_for
from coop.selectors.parcel_judgement import local_day
from coop.selectors.parcels import capacity_kg, open_parcels_between, places_taken_between
from coop.selectors.placement import placement_of
from coop.selectors.routes import routes_of
from coop.selectors.timetables import vehicle_key

DAYS_AHEAD = 4
"""Somebody with frozen fish and no room looks no further than this: common practice, no source."""


@dataclass(frozen=True)
class Offer:
    """A later departure: a parcel that is open and has room, or one that could be opened and filled."""

    departs_at: datetime
    closes_at: datetime
    carrier: Carrier
    key: str
    parcel: Parcel | None = None


def next_offer(parcel, lot, mass_kg, *, now):
    """The next Offer after a parcel, or None: safe at least when its carton is full."""
    found = [_open_offer(parcel, lot, mass_kg, now), _departure_offer(parcel, lot, mass_kg, now)]
    return min((one for one in found if one), key=lambda one: one.departs_at, default=None)


def _until(parcel):
    return parcel.departs_at + timedelta(days=DAYS_AHEAD)


def _is_in_time(offer, lot, now):
    return offer.closes_at >= max(now, lot.ready_at)


def _open_offer(parcel, lot, mass_kg, now):
    others = open_parcels_between(
        parcel.cooperative, parcel.route, parcel.buyer, begins_at=parcel.departs_at, ends_at=_until(parcel)
    )
    for other in others.exclude(pk=parcel.pk):
        if _is_in_time(other, lot, now) and _takes(other, lot, mass_kg):
            name = f"{other.timetable_id}-{local_day(other):%Y%m%d}-{other.design.slug}"
            return Offer(other.departs_at, other.closes_at, other.timetable.carrier, name, other)
    return None


def _takes(parcel, lot, mass_kg):
    try:
        return bool(placement_of(parcel, lot, mass_kg))
    except Conflict:
        return False


def _departure_offer(parcel, lot, mass_kg, now):
    """A departure with places, judged with full cartons: others may share them."""
    taken = places_taken_between(
        parcel.cooperative, begins_at=parcel.departs_at, ends_at=_until(parcel) + timedelta(days=1)
    )
    own = vehicle_key(parcel.timetable, parcel.departs_at)
    for found in _departures(parcel, lot, mass_kg):
        departure = found.slot.vehicle
        offer = Offer(found.slot.departs_at, found.closes_at, found.slot.carrier, found.key)
        left = found.slot.carrier.carton_places - taken.get(departure, 0)
        later = departure != own and offer.departs_at >= parcel.departs_at
        if later and found.is_safe and left >= found.cartons and _is_in_time(offer, lot, now):
            return offer
    return None


def _departures(parcel, lot, mass_kg):
    cooperative, day = parcel.cooperative, local_day(parcel)
    designs = tuple(carton_designs_of(cooperative).filter(slug=parcel.design.slug))
    full = capacity_kg(parcel.design)
    question = Question(
        cooperative=cooperative,
        route=routes_of(cooperative).get(pk=parcel.route_id),
        buyer=buyers_of(cooperative).get(pk=parcel.buyer_id),
        species=lot.species,
        designs=designs,
        mass_kg=full * max(1, math.ceil(mass_kg / full)),
        start_temperature_c=lot.start_temperature_c,
        first_day=day,
        last_day=day + timedelta(days=DAYS_AHEAD),
        closes_at=None,
        deliver_by=lot.deliver_by,
    )
    try:
        return departures_for(question)
    except Invalid:
        # A month without a climate, say: then nothing is offered, and the refusal stands as it is.
        return []
