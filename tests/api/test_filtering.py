from datetime import date

import pytest

from api.buyers import BuyerFilters
from api.carriers import CarrierFilters
from api.cartons import CartonDesignFilters
from api.charges import ChargeFilters
from api.materials import MaterialFilters
from api.members import MemberFilters
from api.places import DayWeatherFilters
from coop import models
from tests.factories.buyers import BuyerFactory
from tests.factories.carriers import CarrierFactory
from tests.factories.cartons import CartonDesignFactory, ReturnableBoxFactory
from tests.factories.charges import ChargeFactory
from tests.factories.materials import MaterialFactory, SackFactory
from tests.factories.members import MemberFactory
from tests.factories.phones import MORNING, PhoneFactory
from tests.factories.places import ClimateFactory, DayWeatherFactory, PlaceFactory
from tests.factories.prices import FishPriceFactory
from tests.factories.routes import LegFactory, RouteFactory
from tests.factories.species import SpeciesFactory
from tests.factories.tariffs import TariffFactory
from tests.factories.timetables import FillingTimetableFactory, TimetableFactory

# address, query, what makes a row that it keeps, what makes one that it leaves out
CASES = [
    (
        "buyers/",
        {"slug": "stall"},
        lambda o: BuyerFactory(cooperative=o, slug="stall"),
        lambda o: BuyerFactory(cooperative=o),
    ),
    (
        "buyers/",
        {"place": "kabwe"},
        lambda o: BuyerFactory(cooperative=o, place__code="kabwe"),
        lambda o: BuyerFactory(cooperative=o),
    ),
    (
        "buyers/",
        {"limit_kind": "core_c"},
        lambda o: BuyerFactory(cooperative=o, limit__limit_kind="core_c", limit__limit_value=-5),
        lambda o: BuyerFactory(cooperative=o),
    ),
    (
        "carriers/",
        {"vehicle": "lorry"},
        lambda o: CarrierFactory(cooperative=o, vehicle="lorry"),
        lambda o: CarrierFactory(cooperative=o),
    ),
    (
        "carriers/",
        {"ride": "hold", "name": "BLUE"},
        lambda o: CarrierFactory(cooperative=o, ride="hold", name="A blue lorry"),
        lambda o: CarrierFactory(cooperative=o, ride="hold"),
    ),
    (
        "carton-designs/",
        {"returnable": "true"},
        lambda o: ReturnableBoxFactory(cooperative=o),
        lambda o: CartonDesignFactory(cooperative=o),
    ),
    (
        "carton-designs/",
        {"returnable": "false"},
        lambda o: CartonDesignFactory(cooperative=o),
        lambda o: ReturnableBoxFactory(cooperative=o),
    ),
    (
        "carton-designs/",
        {"insulation_material": "polyurethane"},
        lambda o: ReturnableBoxFactory(cooperative=o),
        lambda o: CartonDesignFactory(cooperative=o),
    ),
    (
        "charges/",
        {"kind": "papers"},
        lambda o: ChargeFactory(cooperative=o, kind="papers"),
        lambda o: ChargeFactory(cooperative=o),
    ),
    (
        "charges/",
        {"basis": "carton", "on": "2026-03-02"},
        lambda o: ChargeFactory(cooperative=o, basis="carton"),
        lambda o: ChargeFactory(cooperative=o, basis="carton", valid_until=date(2026, 3, 2)),
    ),
    ("climates/", {"month": "10"}, lambda o: ClimateFactory(month=10), lambda o: ClimateFactory(month=1)),
    (
        "day-weather/",
        {"from_date": "2026-03-02", "to_date": "2026-03-03"},
        lambda o: DayWeatherFactory(cooperative=o, date=date(2026, 3, 3)),
        lambda o: DayWeatherFactory(cooperative=o, date=date(2026, 3, 4)),
    ),
    (
        "day-weather/",
        {"kind": "forecast"},
        lambda o: DayWeatherFactory(cooperative=o, kind="forecast"),
        lambda o: DayWeatherFactory(cooperative=o),
    ),
    (
        "fish-prices/",
        {"species": "IRQ"},
        lambda o: FishPriceFactory(cooperative=o, species__code="IRQ"),
        lambda o: FishPriceFactory(cooperative=o),
    ),
    (
        "fish-prices/",
        {"on": "2025-01-01"},
        lambda o: FishPriceFactory(cooperative=o),
        lambda o: FishPriceFactory(cooperative=o, valid_from=date(2025, 1, 2)),
    ),
    (
        "legs/",
        {"route": "south"},
        lambda o: LegFactory(route=RouteFactory(cooperative=o, slug="south")),
        lambda o: LegFactory(route=RouteFactory(cooperative=o)),
    ),
    (
        "materials/",
        {"unit": "sack"},
        lambda o: SackFactory(cooperative=o),
        lambda o: MaterialFactory(cooperative=o),
    ),
    (
        "members/",
        {"name": "ann"},
        lambda o: MemberFactory(cooperative=o, name="Joanna"),
        # The manager who asks stands there already.
        lambda _o: None,
    ),
    (
        "members/",
        {"role": "packer"},
        lambda o: MemberFactory(cooperative=o, role="packer"),
        lambda _o: None,
    ),
    (
        "members/",
        {"left": "true"},
        lambda o: MemberFactory(cooperative=o, left_on=date(2026, 3, 2)),
        lambda _o: None,
    ),
    (
        "phones/",
        {"revoked": "true"},
        lambda o: PhoneFactory(cooperative=o, revoked_at=MORNING),
        # Nor does she ask without a phone.
        lambda _o: None,
    ),
    (
        "phones/",
        {"name": "landing"},
        lambda o: PhoneFactory(cooperative=o, name="At the landing"),
        lambda _o: None,
    ),
    ("places/", {"country": "TZ"}, lambda o: PlaceFactory(country="TZ"), lambda o: PlaceFactory()),
    (
        "routes/",
        {"destination": "mbala"},
        lambda o: RouteFactory(cooperative=o, destination__code="mbala"),
        lambda o: RouteFactory(cooperative=o),
    ),
    (
        "species/",
        {"histamine_prone": "true"},
        lambda o: SpeciesFactory(histamine_prone=True),
        lambda o: SpeciesFactory(),
    ),
    (
        "species/",
        {"family": "clari"},
        lambda o: SpeciesFactory(family="Clariidae"),
        lambda o: SpeciesFactory(),
    ),
    (
        "tariffs/",
        {"on": "2026-03-02"},
        lambda o: TariffFactory(cooperative=o),
        lambda o: TariffFactory(cooperative=o, valid_until=date(2026, 1, 1)),
    ),
    (
        "timetables/",
        {"leaves_when_full": "true"},
        lambda o: FillingTimetableFactory(cooperative=o),
        lambda o: TimetableFactory(cooperative=o),
    ),
    (
        "timetables/",
        {"on": "2024-12-31"},
        lambda o: TimetableFactory(cooperative=o, valid_from=date(2024, 1, 1)),
        lambda o: TimetableFactory(cooperative=o),
    ),
]


@pytest.fixture
def ask(ask_as_manager):
    """Not every list is for visitors."""
    return ask_as_manager


@pytest.mark.parametrize(
    ("address", "query", "keep", "leave"), CASES, ids=[f"{case[0]}{case[1]}" for case in CASES]
)
def test_a_filter_keeps_what_it_names_and_leaves_out_the_rest(ask, ours, address, query, keep, leave):
    leave(ours)
    kept = keep(ours)
    status, answer = ask(address, **query)
    assert status == 200
    assert answer["count"] == 1
    shown = answer["results"][0]
    key = next(name for name in ("id", "slug", "code") if name in shown)
    assert shown[key] in (getattr(kept, key, None), str(getattr(kept, "uuid", "")))
    assert ask(address)[1]["count"] == 2


@pytest.mark.parametrize(
    ("filters", "name", "words"),
    [
        (CarrierFilters, "vehicle", models.Vehicle),
        (CarrierFilters, "ride", models.Ride),
        (CartonDesignFilters, "insulation_material", models.InsulationMaterial),
        (BuyerFilters, "limit_kind", models.LimitKind),
        (ChargeFilters, "kind", models.ChargeKind),
        (ChargeFilters, "basis", models.ChargeBasis),
        (DayWeatherFilters, "kind", models.WeatherKind),
        (MaterialFilters, "unit", models.Unit),
        (MemberFilters, "role", models.Role),
    ],
)
def test_a_filter_knows_the_words_that_are_stored(filters, name, words):
    choices = {word for word, _ in filters.base_filters[name].field.choices if word}
    assert choices == set(words.values)


def test_a_carrier_is_named_by_its_number(ask, ours):
    wanted = TimetableFactory(cooperative=ours)
    TimetableFactory(cooperative=ours)
    TariffFactory(cooperative=ours, carrier=wanted.carrier)
    assert [row["id"] for row in ask("timetables/", carrier=wanted.carrier_id)[1]["results"]] == [wanted.id]
    assert ask("tariffs/", carrier=wanted.carrier_id)[1]["count"] == 1


def test_what_counts_until_a_day_no_longer_counts_on_it(ask, ours):
    FishPriceFactory(cooperative=ours, valid_from=date(2026, 1, 1), valid_until=date(2026, 2, 1))
    assert ask("fish-prices/", on="2026-01-31")[1]["count"] == 1
    assert ask("fish-prices/", on="2026-02-01")[1]["count"] == 0


@pytest.mark.parametrize(
    ("address", "query", "right"),
    [
        ("timetables/", {"carrier": "1.5"}, "a whole number from 1 to 9007199254740992"),
        ("timetables/", {"carrier": "-1"}, "a whole number from 1 to 9007199254740992"),
        ("timetables/", {"carrier": "9" * 30}, "a whole number from 1 to 9007199254740992"),
        ("timetables/", {"leaves_when_full": "maybe"}, "one of true, false"),
        ("timetables/", {"on": "yesterday"}, "a date such as 2026-03-02"),
        ("timetables/", {"on": "02/03/2026"}, "a date such as 2026-03-02"),
        ("carton-designs/", {"from_date": "soon"}, "a date such as 2026-03-02"),
        ("timetables/", {"on": ["2026-03-02", "2026-03-03"]}, "one value"),
        ("carriers/", {"vehicle": "boat"}, "one of minibus, shared_taxi, lorry, pickup"),
        ("carriers/", {"name": "x" * 101}, "a text of at most 100 letters"),
        ("carriers/", {"name": "\x00"}, "a text of at most 100 letters"),
        ("climates/", {"month": "13"}, "a whole number from 1 to 12"),
        ("climates/", {"month": "nan"}, "a whole number from 1 to 12"),
        ("members/", {"name": ""}, "a value, or not to name it"),
    ],
)
def test_a_value_that_a_filter_cannot_take_is_refused_with_what_it_can(ask, address, query, right):
    status, answer = ask(address, **query)
    assert status == 400
    (field,) = answer["error"]["fields"]
    assert field["field"] in query
    assert field["right"] == right
