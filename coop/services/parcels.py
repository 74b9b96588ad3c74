"""Parcels while they fill: opened, joined, left, a carton more or less."""

from datetime import date, datetime, timedelta
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db import transaction
from django.utils import timezone

from coop.errors import Conflict, NoRoom, NotFound, Problem, invalid
from coop.models import Buyer, CartonDesign, Lot, Member, Parcel, ParcelCarton, ParcelState, Part, Timetable
from coop.models.parcels import rounded_kg
from coop.selectors.next_departure import next_offer
from coop.selectors.parcels import capacity_kg, carton_at, parcel_named, places_left
from coop.selectors.placement import placement_of
from coop.selectors.terms import terms_on
from coop.services.locking import lock
from coop.services.lots import own_lot, require_offered
from coop.services.parcel_closing import close_if_last
from coop.services.roles import require_own, require_packer
from coop.services.writing import first_answer, identified, written

OPENED_WITHIN = timedelta(days=60)
"""A departure further away is a slip of the finger: common practice, no source."""


@transaction.atomic
def open_parcel(
    *,
    by: Member,
    timetable: Timetable,
    date: date,
    design: CartonDesign,
    buyer: Buyer,
    cartons: int = 1,
    uuid: UUID | None = None,
    now: datetime | None = None,
) -> Parcel:
    """Opens a parcel with empty cartons on one departure, each on a place of its vehicle."""
    cooperative, now = lock(by.cooperative), now or timezone.now()
    require_own(by, timetable, design, buyer)
    require_packer(by, "open a parcel")
    known = first_answer(Parcel.objects.of(cooperative), uuid, opened_by_id=by.pk)
    if known:
        return parcel_named(cooperative, known.uuid)

    departs_at = departure_of(timetable, date, cooperative)
    require_counting(design, date)
    closes_at = departs_at - timedelta(minutes=terms_on(cooperative, date).closing_lead_minutes)
    if not now <= closes_at <= now + OPENED_WITHIN:
        right = f"a day on which it closes within {OPENED_WITHIN.days} days from now"
        raise invalid("date", date, "is over, or too far away", right)
    require_buyer_there(timetable, buyer)
    require_places(timetable, departs_at, cartons)

    parcel = written(
        Parcel(
            cooperative=cooperative,
            route=timetable.route,
            buyer=buyer,
            timetable=timetable,
            design=design,
            departs_at=departs_at,
            closes_at=closes_at,
            opened_by=by,
            opened_at=now,
            **identified(uuid),
        )
    )
    for position in range(1, cartons + 1):
        written(ParcelCarton(parcel=parcel, position=position, capacity_kg=capacity_kg(design)))
    return parcel_named(cooperative, parcel.uuid)


def join_parcel(
    *,
    by: Member,
    parcel: Parcel,
    lot: Lot,
    mass_kg: float | None = None,
    carton: int | None = None,
    now: datetime | None = None,
) -> Parcel:
    """Puts a lot, or so much of it, into a parcel: into the carton that is named, or the fullest with room.

    A carton while it fills may hold less than is safe, so the fish is refused only where no filling from
    there on up to the capacity can be safe; closing judges what the carton then really holds. For want of
    room the refusal names what is left and the next departure.
    """
    asked = {"by": by, "parcel": parcel, "lot": lot, "mass_kg": mass_kg, "position": carton}
    now = now or timezone.now()
    try:
        # Judged before anybody has to wait for the lock: behind it the same is answered from memory.
        _pieces(**asked, now=now)
        return _join(**asked, now=now)
    except NoRoom as full:
        # Looked for when nobody has to wait any more for the lock.
        raise with_offer(full, parcel_named(by.cooperative, parcel.uuid), lot, now) from full


def _pieces(*, by, parcel, lot, mass_kg, position, now):
    """The lot as it is now, and the pieces of it that its cartons take; refused where they do not."""
    parcel, lot = open_parcel_of(by, parcel), own_lot(by, lot)
    require_offered(lot)
    require_same_way(parcel, lot)
    require_in_time(parcel, lot, now)
    return lot, placement_of(parcel, lot, mass_to_join(lot, mass_kg), position=position)


@transaction.atomic
def _join(*, by, parcel, **asked):
    cooperative = lock(by.cooperative)

    lot, pieces = _pieces(by=by, parcel=parcel, **asked)

    for piece in pieces:
        part = next((row for row in piece.carton.parts.all() if row.lot_id == lot.pk), None)
        part = part or Part(carton=piece.carton, lot=lot, mass_kg=0.0)
        part.mass_kg = rounded_kg((part.mass_kg, piece.mass_kg))
        written(part)
    return parcel_named(cooperative, parcel.uuid)


@transaction.atomic
def leave_parcel(*, by: Member, parcel: Parcel, lot: Lot) -> Parcel:
    """Takes a lot out of the open cartons of a parcel; what lies in a closed one stays."""
    cooperative = lock(by.cooperative)
    require_own(by, parcel)
    parcel, lot = parcel_named(cooperative, parcel.uuid), own_lot(by, lot)
    there = [part for carton in parcel.cartons.all() for part in carton.parts.all() if part.lot_id == lot.pk]
    if not there:
        raise NotFound("This lot does not lie in this parcel.")
    closed = {carton.pk for carton in parcel.cartons.all() if carton.closed_at}
    loose = [part for part in there if part.carton_id not in closed]
    if not loose:
        wrong = Problem("lot", str(lot.uuid), "lies in a closed carton", "a lot in an open carton")
        raise Conflict("A carton that is closed never changes.", wrong)

    for part in loose:
        part.delete()
    return parcel_named(cooperative, parcel.uuid)


@transaction.atomic
def add_carton(*, by: Member, parcel: Parcel) -> Parcel:
    """One more empty carton, on one more place of the vehicle."""
    cooperative = lock(by.cooperative)
    require_packer(by, "add a carton")
    parcel = open_parcel_of(by, parcel)
    require_places(parcel.timetable, parcel.departs_at, 1)

    last = max((carton.position for carton in parcel.cartons.all()), default=0)
    written(ParcelCarton(parcel=parcel, position=last + 1, capacity_kg=capacity_kg(parcel.design)))
    return parcel_named(cooperative, parcel.uuid)


@transaction.atomic
def drop_carton(*, by: Member, parcel: Parcel, position: int, now: datetime | None = None) -> Parcel:
    """Gives the place of an empty carton back; the others keep their numbers.

    Where it was the last one open the parcel closes with it.
    """
    cooperative = lock(by.cooperative)
    require_packer(by, "drop a carton")
    parcel = open_parcel_of(by, parcel)
    carton = carton_at(parcel, position)
    require_empty(carton)
    if len(parcel.cartons.all()) == 1:
        wrong = Problem("carton", position, "is the only one", "give the whole parcel up instead")
        raise Conflict("A parcel has at least one carton.", wrong)

    carton.delete()
    close_if_last(parcel_named(cooperative, parcel.uuid), by=by, at=now or timezone.now())
    return parcel_named(cooperative, parcel.uuid)


@transaction.atomic
def drop_parcel(*, by: Member, parcel: Parcel) -> None:
    """Gives an open parcel without fish up, and its places back."""
    lock(by.cooperative)
    require_packer(by, "give a parcel up")
    parcel = open_parcel_of(by, parcel)
    for carton in parcel.cartons.all():
        require_empty(carton)

    parcel.delete()


def departure_of(timetable, date, cooperative):
    """The hour at which a timetable leaves on a day."""
    if date.weekday() not in timetable.weekdays or not timetable.counts_on(date):
        raise invalid("date", date, "is no day on which it leaves", "a day of its timetable")
    return datetime.combine(date, timetable.departs_at_local, ZoneInfo(cooperative.time_zone))


def require_counting(design, day):
    if not design.counts_on(day):
        right = "the version of the design that counts on the day of departure"
        raise invalid("design", design.slug, f"this version does not count on {day}", right)


def require_buyer_there(timetable, buyer):
    if buyer.place_id != timetable.route.destination_id:
        there = timetable.route.destination.name
        raise invalid("buyer", buyer.slug, f"is not at {there}", f"a buyer at {there}")


def require_places(timetable, departs_at, wanted):
    if wanted < 1:
        raise invalid("cartons", wanted, "is no carton", "at least 1")
    left = max(0, places_left(timetable, departs_at))
    if wanted > left:
        wrong = Problem("cartons", wanted, f"is more than the {left} places left", f"at most {left}")
        raise Conflict(f"The vehicle has {left} places for cartons left on this departure.", wrong)


def open_parcel_of(by, parcel):
    """The parcel as it is now, if it is of her cooperative and open."""
    require_own(by, parcel)
    parcel = parcel_named(by.cooperative, parcel.uuid)
    if parcel.state != ParcelState.OPEN:
        wrong = Problem("parcel", str(parcel.uuid), f"is {parcel.state}", "an open parcel")
        raise Conflict("This parcel is closed.", wrong)
    return parcel


def require_empty(carton):
    if carton.closed_at or carton.parts.all():
        wrong = Problem("carton", carton.position, "holds fish", "an empty carton")
        raise Conflict(f"Carton {carton.position} holds fish.", wrong)


def require_same_way(parcel, lot):
    if (lot.route_id, lot.buyer_id) != (parcel.route_id, parcel.buyer_id):
        right = f"a parcel to {lot.buyer} by {lot.route}"
        raise invalid("lot", str(lot.uuid), "is offered to another buyer or by another route", right)


def require_in_time(parcel, lot, now):
    if now > parcel.departs_at:
        wrong = Problem("parcel", str(parcel.uuid), "left already by its timetable", "a later departure")
        raise Conflict("This departure is over.", wrong)
    if lot.ready_at > parcel.closes_at:
        right = "a departure that closes after the lot is ready"
        wrong = Problem("lot", str(lot.uuid), f"is ready only at {lot.ready_at.isoformat()}", right)
        raise Conflict("The lot is not ready when the carton closes.", wrong)


def mass_to_join(lot, mass_kg):
    """Kilograms of a lot that are to be placed: what is left of it unless less is said."""
    left = rounded_kg([lot.left_kg])
    if left <= 0:
        wrong = Problem("lot", str(lot.uuid), "lies in cartons already or is promised", "another lot")
        raise Conflict("Nothing of this lot is left to place.", wrong)
    wanted = left if mass_kg is None else round(mass_kg, 3)
    if not 0 < wanted <= left:
        raise invalid("mass_kg", mass_kg, "is nothing, or more than is left", f"above 0, at most {left:g} kg")
    if wanted < left and not lot.may_be_split:
        raise invalid("mass_kg", mass_kg, "would split a lot whose owner wants it whole", f"{left:g} kg")
    return wanted


def with_offer(full, parcel, lot, now):
    """A refusal for want of room, with the next departure that is offered instead."""
    offer = next_offer(parcel, lot, full.problems[0].value, now=now)
    if offer is None:
        return full
    zone = ZoneInfo(parcel.cooperative.time_zone)
    leaves = f"{offer.departs_at.astimezone(zone):%Y-%m-%d %H:%M}"
    message = f"{full.message} The next departure is that of {offer.carrier}, {leaves}."
    return NoRoom(message, *full.problems, room_kg=full.room_kg, offer=offer)
