"""A cooperative on the Sunday before a departure: who packs, who offers, and a parcel that waits for fish."""

from datetime import UTC, datetime, timedelta

from tests.factories.cooperatives import CooperativeFactory
from tests.factories.members import MemberFactory
from tests.factories.parcels import DEPARTS_AT, lot_of, parcel_of
from tests.factories.scene import trade

NOW = datetime(2026, 3, 1, 12, tzinfo=UTC)
CLOSES_AT = DEPARTS_AT - timedelta(minutes=40)
# A day's journey: a carton with little in it does not hold, a full one of cold fish does.
LONG_LEG = {"hours_mean": 16.0, "hours_floor": 12.0, "hours_cv": 0.4}


def packing_day(**options):
    """A trade with an owner, a fellow and a packer, and an open parcel of one carton."""
    cooperative = CooperativeFactory()
    day = trade(cooperative, **options)
    for role in ("owner", "fellow", "packer", "manager"):
        known = role if role in ("packer", "manager") else "member"
        setattr(day, role, MemberFactory(cooperative=cooperative, name=role.title(), role=known))
    day.stranger = MemberFactory(cooperative=CooperativeFactory(), name="Stranger", role="manager")
    day.parcel = parcel_of(day)
    return day


def lot(day, member=None, **columns):
    """A lot of a member on this day's way."""
    return lot_of(day, member=member or day.owner, **columns)


def masses(parcel):
    """Kilograms in each carton, by its number."""
    return {carton.position: carton.mass_kg for carton in parcel.cartons.all()}
