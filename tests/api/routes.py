"""Every list of the interface, with what makes a row of it; the rules for all routes are tried on it."""

from datetime import date, timedelta
from typing import NamedTuple

from django.utils import timezone

from coop.models import Terms
from tests.api import parcel_rows, quote_rows
from tests.factories.buyer_limits import BuyerLimitFactory
from tests.factories.buyers import BuyerFactory, ReceivingHoursFactory
from tests.factories.calendar_links import CalendarLinkFactory
from tests.factories.carriers import CarrierFactory
from tests.factories.cartons import CartonDesignFactory, DesignMaterialFactory
from tests.factories.charges import ChargeFactory
from tests.factories.freezers import FreezerFactory
from tests.factories.materials import MaterialFactory, MaterialPriceFactory
from tests.factories.members import MemberFactory
from tests.factories.phones import EnrolmentCodeFactory, PhoneFactory, token_for
from tests.factories.places import ClimateFactory, ClimaticPlaceFactory, DayWeatherFactory
from tests.factories.prices import FishPriceFactory
from tests.factories.routes import LegFactory, OneLegRouteFactory, RouteFactory
from tests.factories.species import SpeciesFactory
from tests.factories.tariffs import TariffFactory, TariffStepFactory
from tests.factories.terms import TermsFactory
from tests.factories.timetables import TimetableFactory


class Route(NamedTuple):
    address: str
    make: object
    """Makes one row of a cooperative, with something in everything that is nested in it."""
    key: str
    shared: bool = False
    """Belongs to nobody: every cooperative reads it."""
    sees: str = "visitors"
    """Who else than managers: visitors, members, or only managers.

    Of some a member sees her own and whoever packs all ("own"), or everybody but a manager her own ("hers").
    """


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


def calendar_link(cooperative, member=None):
    return CalendarLinkFactory(cooperative=cooperative, **({"member": member} if member else {}))


def material(cooperative):
    row = MaterialFactory(cooperative=cooperative)
    MaterialPriceFactory(material=row)
    return row


def phone(cooperative):
    row = PhoneFactory(cooperative=cooperative)
    token_for(MemberFactory(cooperative=cooperative), row)
    return row


def enrolment_code(cooperative):
    issuer = MemberFactory(cooperative=cooperative, role="manager")
    now = timezone.now()
    return EnrolmentCodeFactory(
        cooperative=cooperative, issued_by=issuer, issued_at=now, expires_at=now + timedelta(days=1)
    )


def tariff(cooperative):
    row = TariffFactory(cooperative=cooperative)
    TariffStepFactory(rule__tariff=row)
    return row


def material_price(cooperative):
    return MaterialPriceFactory(material__cooperative=cooperative)


def buyer_limit(cooperative):
    return BuyerLimitFactory(buyer__cooperative=cooperative)


def terms(cooperative):
    """Terms before those that there are: a cooperative of the factories has some from the first day on."""
    first = Terms.objects.of(cooperative).order_by("valid_from").first()
    begins = first.valid_from - timedelta(days=1) if first else date(2000, 1, 1)
    return TermsFactory(cooperative=cooperative, valid_from=begins, valid_until=first and first.valid_from)


def of(factory):
    return lambda cooperative: factory(cooperative=cooperative)


def alone(factory):
    return lambda _cooperative: factory()


ROUTES = (
    Route("buyer-limits", buyer_limit, "id"),
    Route("buyers", buyer, "slug"),
    Route("calendar-links", calendar_link, "uuid", sees="hers"),
    Route("carriers", of(CarrierFactory), "id"),
    Route("carton-designs", carton_design, "slug"),
    Route("charges", charge, "id"),
    Route("claims", parcel_rows.claim, "uuid", sees="own"),
    Route("climates", alone(ClimateFactory), "id", shared=True),
    Route("day-weather", of(DayWeatherFactory), "id"),
    Route("enrolment-codes", enrolment_code, "id", sees="managers"),
    Route("fish-prices", of(FishPriceFactory), "id"),
    Route("freezers", of(FreezerFactory), "slug"),
    Route("legs", leg, "id"),
    Route("lots", parcel_rows.lot, "uuid", sees="own"),
    Route("material-prices", material_price, "id"),
    Route("materials", material, "slug"),
    Route("members", of(MemberFactory), "id", sees="members"),
    Route("parcels", parcel_rows.billed_parcel, "uuid", sees="members"),
    Route("phones", phone, "uuid", sees="managers"),
    Route("places", alone(ClimaticPlaceFactory), "code", shared=True),
    Route("quotes", quote_rows.quote, "uuid", sees="own"),
    Route("routes", of(OneLegRouteFactory), "slug"),
    Route("species", alone(SpeciesFactory), "code", shared=True),
    Route("tariffs", tariff, "id"),
    Route("terms", terms, "id"),
    Route("timetables", of(TimetableFactory), "id"),
)
