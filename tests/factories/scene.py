"""A small trade in full: one route, one vehicle, one carton, one buyer, with every price."""

from datetime import time
from types import SimpleNamespace

from tests.factories.buyers import BuyerFactory
from tests.factories.carriers import CarrierFactory
from tests.factories.cartons import CartonDesignFactory, DesignMaterialFactory, ReturnableBoxFactory
from tests.factories.charges import ChargeFactory
from tests.factories.materials import MaterialFactory, MaterialPriceFactory, SackFactory
from tests.factories.places import ClimaticPlaceFactory
from tests.factories.prices import FishPriceFactory
from tests.factories.routes import OneLegRouteFactory
from tests.factories.species import SpeciesFactory
from tests.factories.tariffs import TariffFactory, TariffRuleFactory
from tests.factories.timetables import TimetableFactory


def priced(design, material, use, amount_minor, **options):
    """A material of a design with its price; no quantity, so that geometry tells it."""
    MaterialPriceFactory(material=material, amount_minor=amount_minor)
    return DesignMaterialFactory(design=design, material=material, use=use, quantity=None, **options)


def common_carton(cooperative, slug="common", **sizes):
    """The common carton with the used carton, shavings and bags that go into it."""
    design = CartonDesignFactory(cooperative=cooperative, slug=slug, **sizes)
    priced(design, MaterialFactory(cooperative=cooperative, name="Used carton"), "carton", 2500)
    priced(design, SackFactory(cooperative=cooperative, name="Shavings"), "insulation", 800)
    priced(design, MaterialFactory(cooperative=cooperative, name="Thin bag"), "thin_bag", 40)
    return design


def returnable_box(cooperative, slug="box", **sizes):
    """A box of foam that comes back, with the bags that do not."""
    design = ReturnableBoxFactory(cooperative=cooperative, slug=slug, **sizes)
    priced(
        design, MaterialFactory(cooperative=cooperative, name="Box"), "box", 650_000, returns_with_box=True
    )
    priced(design, MaterialFactory(cooperative=cooperative, name="Thin bag"), "thin_bag", 40)
    return design


def fares(cooperative, carrier, route, **rule):
    """A tariff of one rule."""
    tariff = TariffFactory(cooperative=cooperative, carrier=carrier, route=route)
    TariffRuleFactory(tariff=tariff, position=1, **rule)
    return tariff


def trade(cooperative, *, leg=None, carrier=None, buyer=None):
    """Route, carrier, timetable, tariff, design, buyer, species and prices of one cooperative."""
    lake, city = ClimaticPlaceFactory(), ClimaticPlaceFactory()
    route = OneLegRouteFactory(
        cooperative=cooperative,
        slug="south",
        origin=lake,
        destination=city,
        **{f"leg__{key}": value for key, value in (leg or {}).items()},
    )
    vehicle = CarrierFactory(cooperative=cooperative, **(carrier or {}))
    species = SpeciesFactory()
    ChargeFactory(cooperative=cooperative)
    return SimpleNamespace(
        cooperative=cooperative,
        route=route,
        carrier=vehicle,
        timetable=TimetableFactory(cooperative=cooperative, carrier=vehicle, route=route),
        tariff=fares(cooperative, vehicle, route),
        design=common_carton(cooperative),
        buyer=BuyerFactory(cooperative=cooperative, slug="market", place=city, **(buyer or {})),
        species=species,
        fish_price=FishPriceFactory(cooperative=cooperative, species=species),
    )


def thin_carton(cooperative):
    """Walls of 3 cm: it keeps fish hard for some hours only."""
    faces = ("left", "right", "front", "back", "bottom", "top")
    return common_carton(cooperative, slug="thin", **{f"insulation_{face}_m": 0.03 for face in faces})


def another_vehicle(trade, hour, **carrier):
    """A timetable at another hour with a vehicle of its own, without a fare."""
    row = CarrierFactory(cooperative=trade.cooperative, **carrier)
    return TimetableFactory(
        cooperative=trade.cooperative, carrier=row, route=trade.route, departs_at_local=time(hour)
    )
