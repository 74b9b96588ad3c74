"""Parcels step by step, as the database wants them: opened, filled, closed, sent, handed over."""

from datetime import UTC, datetime, timedelta

import factory

from coop.models import Parcel, ParcelCarton, Part
from tests.factories.buyers import BuyerFactory
from tests.factories.cartons import CartonDesignFactory
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.lots import LotFactory
from tests.factories.members import MemberFactory
from tests.factories.routes import RouteFactory
from tests.factories.timetables import TimetableFactory

# 16:00 in Lusaka on Monday, 2 March 2026.
DEPARTS_AT = datetime(2026, 3, 2, 14, tzinfo=UTC)


class ParcelFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Parcel

    cooperative = factory.SubFactory(CooperativeFactory)
    route = factory.SubFactory(RouteFactory, cooperative=factory.SelfAttribute("..cooperative"))
    buyer = factory.SubFactory(BuyerFactory, cooperative=factory.SelfAttribute("..cooperative"))
    timetable = factory.SubFactory(
        TimetableFactory,
        cooperative=factory.SelfAttribute("..cooperative"),
        route=factory.SelfAttribute("..route"),
    )
    design = factory.SubFactory(CartonDesignFactory, cooperative=factory.SelfAttribute("..cooperative"))
    departs_at = DEPARTS_AT
    closes_at = factory.LazyAttribute(lambda it: it.departs_at - timedelta(minutes=40))
    opened_by = factory.SubFactory(MemberFactory, cooperative=factory.SelfAttribute("..cooperative"))
    opened_at = factory.LazyAttribute(lambda it: it.departs_at - timedelta(days=1))


class ParcelCartonFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = ParcelCarton

    parcel = factory.SubFactory(ParcelFactory)
    position = 1
    capacity_kg = 100.5


class PartFactory(factory.django.DjangoModelFactory):
    """A whole lot in a carton of the parcel that goes its way."""

    class Meta:
        model = Part

    carton = factory.SubFactory(ParcelCartonFactory)
    lot = factory.SubFactory(
        LotFactory,
        cooperative=factory.SelfAttribute("..carton.parcel.cooperative"),
        route=factory.SelfAttribute("..carton.parcel.route"),
        buyer=factory.SelfAttribute("..carton.parcel.buyer"),
    )
    mass_kg = factory.SelfAttribute("lot.mass_kg")


def parcel_of(trade, **columns):
    """An open parcel with one empty carton on Monday's departure of a trade."""
    wanted = {
        "cooperative": trade.cooperative,
        "route": trade.route,
        "buyer": trade.buyer,
        "timetable": trade.timetable,
        "design": trade.design,
    }
    parcel = ParcelFactory(**(wanted | columns))
    ParcelCartonFactory(parcel=parcel)
    return parcel


def lot_of(trade, **columns):
    """A lot of a trade's species that goes its way."""
    wanted = {
        "cooperative": trade.cooperative,
        "route": trade.route,
        "buyer": trade.buyer,
        "species": trade.species,
    }
    return LotFactory(**(wanted | columns))


def closed(parcel, **facts):
    """Closes every carton of a parcel, and with that the parcel."""
    wanted = {"closed_at": parcel.closes_at, "closed_by": parcel.opened_by, "chance_hard": 0.99, **facts}
    parcel.cartons.update(**wanted)
    return moved_on(parcel, "closed", closed_at=wanted["closed_at"], sharing_rule="capped")


def departed(parcel, **facts):
    """Sends a closed parcel off."""
    wanted = {"departed_at": parcel.departs_at, "driver": "Driver", "plate": "ABC 123", **facts}
    return moved_on(parcel, "departed", **wanted)


def handed_over(parcel, **facts):
    """Hands over, hard, a parcel that left."""
    wanted = {
        "arrived_at": parcel.departed_at + timedelta(hours=5),
        "handed_over_at": parcel.departed_at + timedelta(hours=6),
        "is_hard": True,
        "soft_kg": 0.0,
        "received_by": "Receiver",
        **facts,
    }
    return moved_on(parcel, "handed_over", **wanted)


def settled(parcel, **facts):
    """Settles a parcel that was handed over; the buyer pays each owner."""
    wanted = {"settled_at": parcel.handed_over_at + timedelta(days=1), **facts}
    return moved_on(parcel, "settled", **wanted)


def called_off(parcel, **facts):
    """Calls a closed parcel off, two hours after it was to leave."""
    wanted = {
        "called_off_at": parcel.departs_at + timedelta(hours=2),
        "called_off_note": "the minibus did not come",
        **facts,
    }
    return moved_on(parcel, "called_off", **wanted)


def moved_on(parcel, state, **columns):
    for name, value in {"state": state, **columns}.items():
        setattr(parcel, name, value)
    parcel.save()
    return parcel
