"""Rows of lots, parcels and money for the tables of all routes: made with factories, whatever the hour."""

from datetime import timedelta

from django.utils import timezone

from tests.factories.claims import ClaimFactory, ClaimPartFactory
from tests.factories.entries import EntryFactory
from tests.factories.lots import LotFactory
from tests.factories.members import MemberFactory
from tests.factories.parcels import (
    ParcelCartonFactory,
    ParcelFactory,
    PartFactory,
    closed,
    departed,
    handed_over,
    lot_of,
    parcel_of,
)
from tests.factories.plans import PlanFactory
from tests.factories.scene import trade
from tests.factories.shares import BillLineFactory, ShareFactory, StabilityFactory


def lot(cooperative, member=None):
    row = LotFactory(cooperative=cooperative, **({"member": member} if member else {}))
    carton = ParcelCartonFactory(parcel=parcel_on_the_way_of(row))
    PartFactory(carton=carton, lot=row)
    return row


def parcel_on_the_way_of(lot):
    return ParcelFactory(cooperative=lot.cooperative, route=lot.route, buyer=lot.buyer)


def billed_parcel(cooperative, member=None):
    """A closed parcel with one lot, its bill and its share."""
    row = ParcelFactory(cooperative=cooperative)
    columns = {"member": member} if member else {}
    part = PartFactory(carton=ParcelCartonFactory(parcel=row), **{f"lot__{k}": v for k, v in columns.items()})
    closed(row)
    BillLineFactory(parcel=row)
    ShareFactory(parcel=row, member=part.lot.member)
    StabilityFactory(parcel=row)
    return row


def claim(cooperative, member=None):
    """A claim of two members on a parcel of theirs that left."""
    row = departed(billed_parcel(cooperative, member))
    owner = row.shares.get().member
    made = ClaimFactory(cooperative=cooperative, parcel=row, raised_by=owner)
    ClaimPartFactory(claim=made, member=owner)
    ClaimPartFactory(claim=made, member=MemberFactory(cooperative=cooperative))
    return made


def payment(cooperative, member=None):
    columns = {"member": member} if member else {}
    return EntryFactory(cooperative=cooperative, **columns)


# What the table of roles names and sends, of a Cast.


def own_lot(cast):
    return LotFactory(cooperative=cast.ours, member=cast.owner).uuid


def offer(cast):
    shore = trade(cast.ours)
    now = timezone.now()
    return {
        "route": shore.route.slug,
        "buyer": shore.buyer.slug,
        "species": shore.species.code,
        "mass_kg": 20,
        "frozen_since": (now - timedelta(days=2)).isoformat(),
        "ready_at": (now - timedelta(days=1)).isoformat(),
        "start_temperature_c": -18,
    }


def opening(cast):
    shore = trade(cast.ours)
    return {
        "timetable": shore.timetable.pk,
        "date": (timezone.now() + timedelta(days=3)).date().isoformat(),
        "carton_design": shore.design.slug,
        "buyer": shore.buyer.slug,
    }


def coming_parcel(cast):
    """A parcel that leaves in some days, and a lot of the owner's that would go with it."""
    shore = trade(cast.ours)
    departs_at = timezone.now().replace(hour=14, minute=0, second=0, microsecond=0) + timedelta(days=3)
    row = parcel_of(shore, departs_at=departs_at)
    lot_of(shore, member=cast.owner, mass_kg=80)
    return row


def coming(cast):
    return coming_parcel(cast).uuid


def filled(cast):
    row = coming_parcel(cast)
    PartFactory(carton=row.cartons.get(), lot=cast.owner.lots.get())
    return row.uuid


def twofold(cast):
    """A parcel of two cartons, both empty."""
    row = coming_parcel(cast)
    ParcelCartonFactory(parcel=row, position=2)
    return row.uuid


def lot_of_owner(cast):
    return {"lot": str(cast.owner.lots.get().uuid)}


def bill_of_owner(cast):
    return billed_parcel(cast.ours, cast.owner).uuid


def on_the_way(cast):
    return departed(billed_parcel(cast.ours, cast.owner)).uuid


def arrived(cast):
    return handed_over(departed(billed_parcel(cast.ours, cast.owner))).uuid


def now(_cast):
    return {"departed_at": timezone.now().isoformat()}


def hard(_cast):
    return {"handed_over_at": timezone.now().isoformat(), "is_hard": True}


def paying(cast):
    day = timezone.now().date() - timedelta(days=1)
    return {"member": cast.owner.pk, "amount_minor": 100, "direction": "in", "paid_on": day.isoformat()}


def claiming(cast):
    row = departed(billed_parcel(cast.ours, cast.owner))
    parts = [{"member": cast.owner.pk, "claimed_minor": 100}]
    return {"parcel": str(row.uuid), "kind": "lost", "parts": parts}


def claim_of_owner(cast):
    return claim(cast.ours, cast.owner).uuid


def payment_of_owner(cast):
    return payment(cast.ours, cast.owner).uuid


def planning(cast):
    """Asks for a plan where nothing waits: who may is what the table is about."""
    shore, day = trade(cast.ours), timezone.now().date() + timedelta(days=2)
    return {
        "route": shore.route.slug,
        "buyer": shore.buyer.slug,
        "from": day.isoformat(),
        "to": day.isoformat(),
    }


def plan(cast):
    """A plan that sends nothing."""
    nothing = {"cartons": [], "left_behind": [], "mass_kg": 0}
    return PlanFactory(cooperative=cast.ours, proposal=nothing).uuid
