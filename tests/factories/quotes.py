"""Quotes as the database wants them, with figures enough to be shown; those of a service are in services."""

import hashlib
from datetime import UTC, datetime, timedelta

import factory

from coop.models import Quote, QuoteQuestion, Supply
from tests.factories.buyers import BuyerFactory
from tests.factories.cartons import CartonDesignFactory
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.members import MemberFactory
from tests.factories.parcels import DEPARTS_AT
from tests.factories.routes import RouteFactory
from tests.factories.species import SpeciesFactory
from tests.factories.timetables import TimetableFactory


class SupplyFactory(factory.django.DjangoModelFactory):
    """60 kg that were ready on the day before the Monday on which the tests send fish."""

    class Meta:
        model = Supply

    cooperative = factory.SubFactory(CooperativeFactory)
    member = factory.SubFactory(MemberFactory, cooperative=factory.SelfAttribute("..cooperative"))
    species = factory.SubFactory(SpeciesFactory)
    mass_kg = 60.0
    frozen_since = datetime(2026, 2, 28, 6, tzinfo=UTC)
    ready_at = datetime(2026, 3, 1, 6, tzinfo=UTC)
    start_temperature_c = -18.0
    entered_by = factory.SelfAttribute("member")
    entered_at = datetime(2026, 3, 1, 7, tzinfo=UTC)


def figures(**changes):
    """Two prices for 40 to 60 kg."""
    masses = [float(kg) for kg in range(40, 61)]
    rung = {"cartons": 1, "chance_hard": 0.96, "softened_share": 0.01, "cost_minor": 400_000}
    step = {"cartons": 1, "chance_hard": 0.96, "cost_minor": 400_000, "lines": []}
    return {
        "cooperative": {"slug": "ours", "name": "Traders"},
        "currency": "ZMW",
        "currency_decimals": 2,
        "coin_minor": 5,
        "time_zone": "Africa/Lusaka",
        "member": {"id": 3, "name": "Anna"},
        "buyer": {"slug": "market", "name": "City Market"},
        "route": {"slug": "south", "name": "South"},
        "origin": "Lake",
        "destination": "City",
        "carrier": {"id": 4, "name": "Night minibus", "vehicle": "minibus"},
        "departs_at": "2026-03-02T16:00:00+02:00",
        "leaves_when_full": False,
        "carton_design": {"slug": "common", "name": "Common carton", "returnable": False},
        "species": {"code": "IRQ", "name_en": "Sleek lates", "name_fr": "Perche", "histamine_prone": False},
        "supply_kg": 60.0,
        "start_temperature_c": -18.0,
        "limit_kind": "softened_share",
        "limit_value": 0.05,
        "confidence": 0.95,
        "chance_hard": 0.96,
        "softened_share": 0.01,
        "closes_at": "2026-03-02T15:20:00+02:00",
        "latest_safe_departure_at": "2026-03-02T18:30:00+02:00",
        "arrives_from": "2026-03-02T20:00:00+02:00",
        "arrives_until": "2026-03-03T01:30:00+02:00",
        "deliver_by": None,
        "rests_on_trips": 0,
        "rests_on_weather": "climate",
        "insulation_measured": False,
        "step_kg": 1.0,
        "rests_on": [],
        "valid_until": "2026-03-02T15:20:00+02:00",
        "valid_until_because": {"code": "closes"},
        "lines": [{"code": "fish", "name": ""}],
        "rungs": [{"kg": kg, **rung, "amounts_minor": [400_000]} for kg in masses],
        "ladder": [
            {"from_kg": 40.0, "to_kg": 49.0, "price_minor_per_kg": 12_500, **step},
            {"from_kg": 50.0, "to_kg": 60.0, "price_minor_per_kg": 10_000, **step},
        ],
        **changes,
    }


class QuoteFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Quote

    cooperative = factory.SubFactory(CooperativeFactory)
    supply = factory.SubFactory(SupplyFactory, cooperative=factory.SelfAttribute("..cooperative"))
    buyer = factory.SubFactory(BuyerFactory, cooperative=factory.SelfAttribute("..cooperative"))
    route = factory.SubFactory(RouteFactory, cooperative=factory.SelfAttribute("..cooperative"))
    timetable = factory.SubFactory(
        TimetableFactory,
        cooperative=factory.SelfAttribute("..cooperative"),
        route=factory.SelfAttribute("..route"),
    )
    design = factory.SubFactory(CartonDesignFactory, cooperative=factory.SelfAttribute("..cooperative"))
    departs_at = DEPARTS_AT
    becomes = "lot"
    made_by = factory.SelfAttribute("supply.member")
    issued_at = factory.LazyAttribute(lambda it: it.departs_at - timedelta(days=1))
    valid_until = factory.LazyAttribute(lambda it: it.departs_at - timedelta(minutes=40))
    language = "en"
    profit_kind = "mark_up"
    profit_share = 0.25
    least_kg = 40.0
    most_kg = 60.0
    figures = factory.LazyFunction(figures)
    secret = factory.Sequence(lambda n: f"secret{n}")
    secret_digest = factory.LazyAttribute(lambda it: hashlib.sha256(it.secret.encode()).hexdigest())

    @classmethod
    def _create(cls, model_class, *args, **columns):
        secret = columns.pop("secret")
        row = super()._create(model_class, *args, **columns)
        row.secret = secret
        return row


class QuoteQuestionFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = QuoteQuestion

    quote = factory.SubFactory(QuoteFactory)
    asked_at = factory.Sequence(lambda n: datetime(2026, 3, 1, 15, 0, n % 60, n, tzinfo=UTC))
    name = "Mr Banda"
    text = "Are they gutted?"
