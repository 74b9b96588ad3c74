"""Every list of the interface, with what makes a row of it; the rules for all routes are tried on it."""

from typing import NamedTuple

from tests.factories.buyers import BuyerFactory, ReceivingHoursFactory
from tests.factories.carriers import CarrierFactory
from tests.factories.cartons import CartonDesignFactory, DesignMaterialFactory
from tests.factories.charges import ChargeFactory
from tests.factories.materials import MaterialFactory, MaterialPriceFactory
from tests.factories.members import MemberFactory
from tests.factories.places import ClimateFactory, ClimaticPlaceFactory, DayWeatherFactory
from tests.factories.prices import FishPriceFactory
from tests.factories.routes import LegFactory, OneLegRouteFactory, RouteFactory
from tests.factories.species import SpeciesFactory
from tests.factories.tariffs import TariffFactory, TariffStepFactory
from tests.factories.timetables import TimetableFactory


class Route(NamedTuple):
    address: str
    make: object
    """Makes one row of a cooperative, with something in everything that is nested in it."""
    key: str
    shared: bool = False
    """Belongs to nobody: every cooperative reads it."""


def buyer(cooperative):
    row = BuyerFactory(cooperative=cooperative)
    ReceivingHoursFactory(buyer=row)
    return row


def carton_design(cooperative):
    row = CartonDesignFactory(cooperative=cooperative)
    use = DesignMaterialFactory(design=row)
    MaterialPriceFactory(material=use.material)
    return row


def charge(cooperative):
    route, receiver = RouteFactory(cooperative=cooperative), BuyerFactory(cooperative=cooperative)
    return ChargeFactory(cooperative=cooperative, route=route, buyer=receiver)


def leg(cooperative):
    return LegFactory(route__cooperative=cooperative)


def material(cooperative):
    row = MaterialFactory(cooperative=cooperative)
    MaterialPriceFactory(material=row)
    return row


def tariff(cooperative):
    row = TariffFactory(cooperative=cooperative)
    TariffStepFactory(rule__tariff=row)
    return row


def of(factory):
    return lambda cooperative: factory(cooperative=cooperative)


def alone(factory):
    return lambda _cooperative: factory()


ROUTES = (
    Route("buyers", buyer, "slug"),
    Route("carriers", of(CarrierFactory), "id"),
    Route("carton-designs", carton_design, "slug"),
    Route("charges", charge, "id"),
    Route("climates", alone(ClimateFactory), "id", shared=True),
    Route("day-weather", of(DayWeatherFactory), "id"),
    Route("fish-prices", of(FishPriceFactory), "id"),
    Route("legs", leg, "id"),
    Route("materials", material, "slug"),
    Route("members", of(MemberFactory), "id"),
    Route("places", alone(ClimaticPlaceFactory), "code", shared=True),
    Route("routes", of(OneLegRouteFactory), "slug"),
    Route("species", alone(SpeciesFactory), "code", shared=True),
    Route("tariffs", tariff, "id"),
    Route("timetables", of(TimetableFactory), "id"),
)
