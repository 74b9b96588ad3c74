"""What the table of roles sends to change what counts, and the rows that its addresses name."""

from datetime import timedelta

from django.utils import timezone

from coop.selectors.payments import local_today
from tests.factories.buyer_limits import BuyerLimitFactory
from tests.factories.buyers import BuyerFactory
from tests.factories.carriers import CarrierFactory
from tests.factories.cartons import CartonDesignFactory, DesignMaterialFactory
from tests.factories.charges import ChargeFactory
from tests.factories.materials import MaterialFactory, MaterialPriceFactory
from tests.factories.prices import FishPriceFactory
from tests.factories.routes import OneLegRouteFactory, RouteFactory
from tests.factories.species import SpeciesFactory
from tests.factories.tariffs import TariffFactory
from tests.factories.terms import TermsFactory
from tests.factories.timetables import TimetableFactory


def day(cast, days=0):
    """A day from today on, where the cooperative is."""
    return local_today(cast.ours, timezone.now()) + timedelta(days=days)


def begins(cast):
    return {"valid_from": day(cast, 1).isoformat()}


def ends(cast):
    return {"valid_until": day(cast, 1).isoformat()}


def way(cast):
    return {
        "carrier": CarrierFactory(cooperative=cast.ours).pk,
        "route": RouteFactory(cooperative=cast.ours).slug,
    }


def fare(cast):
    return {**begins(cast), **way(cast), "rules": [{"kind": "per_carton", "amount_minor": 5}]}


def hour(cast):
    late = {"delay_hours_mean": 0.5, "delay_hours_cv": 0.5}
    return {**begins(cast), **way(cast), **late, "departs_at_local": "16:00", "weekdays": [0]}


def fish_price(cast):
    prices = {"bought_minor_per_kg": 1, "sold_minor_per_kg": 3, "soft_minor_per_kg": 2}
    return {**begins(cast), **prices, "species": SpeciesFactory().code}


def material_price(cast):
    return {**begins(cast), "material": MaterialFactory(cooperative=cast.ours).slug, "amount_minor": 5}


def charge(cast):
    route = RouteFactory(cooperative=cast.ours)
    what = {"kind": "levy", "name": "Gate", "basis": "carton", "amount_minor": 5}
    return {**begins(cast), **what, "route": route.slug}


def limit(cast):
    buyer = BuyerFactory(cooperative=cast.ours)
    return {**begins(cast), "buyer": buyer.slug, "limit_kind": "core_c", "limit_value": -5.0}


def terms(cast):
    return {**begins(cast), "labour_price_minor_per_hour": 5}


def design(cast):
    """A version of one of ours; elsewhere its short name is that of no design."""
    row = CartonDesignFactory(cooperative=cast.ours)
    DesignMaterialFactory(design=row)
    return {**begins(cast), "slug": row.slug, "insulation_top_m": 0.12}


def trial(cast):
    route = OneLegRouteFactory(cooperative=cast.ours)
    buyer = BuyerFactory(cooperative=cast.ours, place=route.destination)
    fish = {"species": SpeciesFactory().code, "mass_kg": 20.0}
    names = {"route": route.slug, "buyer": buyer.slug, "last_day": day(cast, 3).isoformat()}
    return {**begins(cast), **names, **fish, "surcharge_share": 0.1}


def coming(factory, owner="cooperative", name="pk"):
    """Makes of a Cast what its address names: a row of ours that has not begun."""

    def made(cast):
        return getattr(factory(**{owner: cast.ours}, valid_from=day(cast, 7)), name)

    return made


def started(factory, owner="cooperative", name="pk"):
    """The same of one that counts."""
    return lambda cast: getattr(factory(**{owner: cast.ours}), name)


def own_terms(cast):
    return TermsFactory(cooperative=cast.ours).pk


def coming_terms(cast):
    now = TermsFactory(cooperative=cast.ours)
    now.valid_until = day(cast, 7)
    now.save()
    return TermsFactory(cooperative=cast.ours, valid_from=day(cast, 7)).pk


def coming_limit(cast):
    buyer = BuyerFactory(cooperative=cast.ours, limit=None)
    return BuyerLimitFactory(buyer=buyer, valid_from=day(cast, 7)).pk


def started_limit(cast):
    return BuyerFactory(cooperative=cast.ours).limits.get().pk


def started_design(cast):
    return CartonDesignFactory(cooperative=cast.ours).slug


STEPPED = (
    ("tariffs", TariffFactory, "cooperative"),
    ("fish-prices", FishPriceFactory, "cooperative"),
    ("material-prices", MaterialPriceFactory, "material__cooperative"),
    ("charges", ChargeFactory, "cooperative"),
    ("timetables", TimetableFactory, "cooperative"),
)
"""Subjects that are confirmed, ended and withdrawn alike."""
