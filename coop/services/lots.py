"""Lots: fish that a member offers to be sent."""

from datetime import datetime, timedelta
from uuid import UUID

from django.db import transaction
from django.utils import timezone

from coop.errors import Conflict, NotAllowed, Problem, invalid
from coop.models import Buyer, Lot, Member, Route, Species
from coop.models.parcels import rounded_kg
from coop.selectors.lots import OFFERED, PARTLY_PLACED, lot_named
from coop.selectors.species import softens_at
from coop.services.locking import lock
from coop.services.roles import packs, require_own
from coop.services.writing import first_answer, identified, written

FROZEN_BEFORE = timedelta(days=730)
READY_WITHIN = timedelta(days=60)
"""Older fish or a later hour is a slip of the finger: common practice, no source."""
CHANGEABLE = frozenset(
    {
        "route",
        "buyer",
        "species",
        "mass_kg",
        "frozen_since",
        "ready_at",
        "start_temperature_c",
        "deliver_by",
        "may_be_split",
        "note",
    }
)


@transaction.atomic
def offer_lot(
    *,
    by: Member,
    route: Route,
    buyer: Buyer,
    species: Species,
    mass_kg: float,
    frozen_since: datetime,
    ready_at: datetime,
    start_temperature_c: float,
    member: Member | None = None,
    deliver_by: datetime | None = None,
    may_be_split: bool = False,
    note: str = "",
    uuid: UUID | None = None,
    now: datetime | None = None,
) -> Lot:
    """Offers fish of a member, by herself or by whoever packs; the same id again gives the first lot."""
    cooperative, now, member = lock(by.cooperative), now or timezone.now(), member or by
    require_own(by, member, route, buyer)
    require_for(by, member, "offer fish")
    known = first_answer(Lot.objects.of(cooperative), uuid, offered_by_id=by.pk, member_id=member.pk)
    if known:
        return lot_named(cooperative, known.uuid)

    lot = Lot(
        cooperative=cooperative,
        member=member,
        route=route,
        buyer=buyer,
        species=species,
        mass_kg=to_the_gram(mass_kg),
        frozen_since=frozen_since,
        ready_at=ready_at,
        start_temperature_c=start_temperature_c,
        deliver_by=deliver_by,
        may_be_split=may_be_split,
        offered_by=by,
        offered_at=now,
        note=note,
        **identified(uuid),
    )
    require_sensible(lot, now)

    return lot_named(cooperative, written(lot).uuid)


@transaction.atomic
def change_lot(*, by: Member, lot: Lot, now: datetime | None = None, **changes) -> Lot:
    """Changes what was said of a lot; while any of it lies in a carton or is promised only its note."""
    cooperative, now = lock(by.cooperative), now or timezone.now()
    lot = own_lot(by, lot)
    unknown = set(changes) - CHANGEABLE
    if unknown:
        raise TypeError(f"change_lot() changes no {', '.join(sorted(unknown))}")
    require_own(by, *(changes[name] for name in ("route", "buyer") if name in changes))
    require_offered(lot)
    if set(changes) - {"note"}:
        require_unspoken_for(lot)

    for name, value in changes.items():
        setattr(lot, name, to_the_gram(value) if name == "mass_kg" else value)
    if set(changes) - {"note"}:
        require_sensible(lot, now)

    return lot_named(cooperative, written(lot).uuid)


@transaction.atomic
def withdraw_lot(*, by: Member, lot: Lot, now: datetime | None = None) -> Lot:
    """Takes a lot, or what is left of it, off the offer; a second time changes nothing."""
    cooperative, now = lock(by.cooperative), now or timezone.now()
    lot = own_lot(by, lot)
    if lot.withdrawn_at:
        return lot
    if any(part.carton.closed_at is None for part in lot.parts.all()):
        raise in_a_carton(lot)
    if lot.state not in (OFFERED, PARTLY_PLACED):
        wrong = Problem("lot", str(lot.uuid), "is closed in cartons or promised", "a lot that still waits")
        raise Conflict("Nothing of this lot is left to withdraw.", wrong)

    lot.withdrawn_at = now

    return lot_named(cooperative, written(lot).uuid)


def to_the_gram(mass_kg):
    """Masses are added up to the gram, so none is stored finer."""
    return rounded_kg([mass_kg])


def require_for(by, member, doing):
    """A member does things for herself, whoever packs for everybody who is still a member."""
    if member.pk != by.pk and not packs(by):
        raise NotAllowed(f"Only a packer or a manager may {doing} for somebody else.")
    if member.left_on:
        right = "somebody who is a member"
        raise invalid("member", member.name, f"left on {member.left_on}", right)


def own_lot(by, lot):
    """The lot as it is now, if it is hers or she packs; one of another cooperative is not there."""
    require_own(by, lot)
    if lot.member_id != by.pk and not packs(by):
        raise NotAllowed("Only a packer or a manager may do that with somebody else's fish.")
    return lot_named(by.cooperative, lot.uuid)


def require_offered(lot):
    if lot.withdrawn_at:
        wrong = Problem("lot", str(lot.uuid), "was withdrawn", "a new lot")
        raise Conflict("This lot was withdrawn.", wrong)


def require_unspoken_for(lot):
    if lot.parts.all():
        raise in_a_carton(lot)
    if lot.promised_kg:
        wrong = Problem("lot", str(lot.uuid), f"is promised, {lot.promised_kg:g} kg of it", "its note only")
        raise Conflict("A buyer has accepted fish of this lot.", wrong)


def in_a_carton(lot):
    wrong = Problem("lot", str(lot.uuid), "lies in a carton", "take it out of open cartons first")
    return Conflict("Part of this lot lies in a carton.", wrong)


def require_sensible(lot, now):
    """What no single column can tell: the order of its hours, the end of its way, how cold it is."""
    if lot.buyer.place_id != lot.route.destination_id:
        there = lot.route.destination.name
        raise invalid("buyer", lot.buyer.slug, f"is not at {there}", f"a buyer at {there}")
    if not now - FROZEN_BEFORE <= lot.frozen_since <= lot.ready_at:
        right = "within two years, and not after it is ready"
        raise invalid("frozen_since", lot.frozen_since, "is too long ago, or after it is ready", right)
    if lot.ready_at > now + READY_WITHIN:
        raise invalid("ready_at", lot.ready_at, "is too far away", f"within {READY_WITHIN.days} days")
    if lot.deliver_by and lot.deliver_by <= max(now, lot.ready_at):
        raise invalid("deliver_by", lot.deliver_by, "is over before it can be sent", "later than ready_at")
    soft = softens_at(lot.species)
    if not lot.start_temperature_c < soft:
        right = f"below {soft:.1f} °C, where half of its water is frozen"
        raise invalid("start_temperature_c", lot.start_temperature_c, "is not frozen", right)
