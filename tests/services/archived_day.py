"""A cooperative with a row in every table that an archive has, and a way to take all of it off a server."""

from datetime import UTC, date, datetime, timedelta

from django.db import connection

from coop.models import CalendarLink, EnrolmentCode, PhoneToken
from coop.selectors.archive import SHARED, Belongings, tables
from coop.services.changes import withdraw
from coop.services.refusals import put_aside
from coop.services.tariffs import change_tariff
from tests.factories.buyers import ReceivingHoursFactory
from tests.factories.calendar_links import CalendarLinkFactory
from tests.factories.claims import ClaimFactory, ClaimPartFactory
from tests.factories.entries import EntryFactory
from tests.factories.freezers import FreezerFactory
from tests.factories.parcels import PartFactory, closed, parcel_of
from tests.factories.phones import EnrolmentCodeFactory, PhoneFactory, token_for
from tests.factories.places import DayWeatherFactory
from tests.factories.plans import PlanFactory
from tests.factories.quotes import QuoteFactory, QuoteQuestionFactory, SupplyFactory, figures
from tests.factories.separations import SeparationFactory
from tests.factories.shares import BillLineFactory, ShareFactory, StabilityFactory
from tests.factories.tariffs import TariffStepFactory
from tests.services.packing_day import lot, packing_day

NOW = datetime(2026, 3, 1, 12, 0, 0, 123456, tzinfo=UTC)
LATER = date(2026, 5, 1)


def archived_day():
    """Rows of every table, and among them a fare that was changed and one that was withdrawn."""
    day = packing_day()
    ours = {"cooperative": day.cooperative}
    fish = lot(day, day.owner)
    PartFactory(carton=day.parcel.cartons.get(), lot=fish, mass_kg=fish.mass_kg)
    closed(day.parcel)
    # A week later another waits, open, with fish in it.
    later = parcel_of(day, departs_at=day.parcel.departs_at + timedelta(days=7))
    placed = lot(day, day.fellow)
    PartFactory(carton=later.cartons.get(), lot=placed)
    money(day, ours)
    quotes(day, ours)
    SupplyFactory(**ours, member=day.fellow, species=day.species, mass_kg=placed.mass_kg, lot=placed)
    people(day, ours)
    ReceivingHoursFactory(buyer=day.buyer)
    for factory in (FreezerFactory, SeparationFactory, DayWeatherFactory):
        factory(**ours)
    TariffStepFactory(rule__tariff=day.tariff, rule__position=2)
    leaves_nothing_but_history(day)
    return day


def money(day, ours):
    parcel = {"parcel": day.parcel}
    BillLineFactory(**parcel)
    ShareFactory(**parcel, member=day.owner)
    StabilityFactory(**parcel, leaves=[day.owner.pk])
    booked = {**ours, "kind": "share", "amount_minor": 20_000, **parcel}
    entry = EntryFactory(**booked, member=day.owner)
    EntryFactory(**ours, member=day.owner, kind="correction", corrects=entry, amount_minor=-50)
    claim = ClaimFactory(**ours, **parcel, raised_by=day.owner)
    ClaimPartFactory(claim=claim, member=day.owner)


def quotes(day, ours):
    supply = SupplyFactory(**ours, member=day.owner, species=day.species)
    told = figures(
        member={"id": day.owner.pk, "name": day.owner.name},
        carrier={"id": day.carrier.pk, "name": day.carrier.name},
        rests_on=[{"subject": "tariff", "id": day.tariff.pk}],
    )
    way = {"buyer": day.buyer, "route": day.route, "timetable": day.timetable, "design": day.design}
    QuoteQuestionFactory(quote=QuoteFactory(**ours, supply=supply, figures=told, **way))
    carton = {
        "timetable": day.timetable.pk,
        "carrier": {"id": day.carrier.pk, "name": day.carrier.name},
        "parts": [{"member": {"id": day.owner.pk, "name": day.owner.name}}],
    }
    PlanFactory(
        **ours,
        route=day.route,
        buyer=day.buyer,
        asked_by=day.packer,
        proposal={"cartons": [carton], "left_behind": []},
    )


def people(day, ours):
    phone = PhoneFactory(**ours, name="Phone at the landing")
    token_for(day.manager, phone)
    EnrolmentCodeFactory(**ours, member=day.owner)
    CalendarLinkFactory(**ours, member=day.owner)


def leaves_nothing_but_history(day):
    """A fare to come that was taken back, with a rule by steps: all that is left of it is its history."""
    steps = [{"from_kg": 0.0, "amount_minor": 9_000}, {"from_kg": 50.0, "amount_minor": 12_000}]
    rules = [{"kind": "by_step", "steps": steps}, {"kind": "per_carton", "amount_minor": 40_000}]
    wanted = {
        "by": day.manager,
        "carrier": day.carrier,
        "route": day.route,
        "now": NOW,
        "note": "heard at the park",
    }
    change_tariff(**wanted, valid_from=LATER, rules=rules[1:])
    gone = change_tariff(**wanted, valid_from=LATER + timedelta(days=30), rules=rules)
    withdraw(gone, day.manager, "it was a rumour", now=NOW)


def taken_off(cooperative):
    """Takes a cooperative off this server, past everything that protects it."""
    belongings = Belongings(cooperative)
    left_out = (PhoneToken, EnrolmentCode, CalendarLink)
    with put_aside():
        for model in left_out:
            model.objects.of(cooperative).delete()
        for model, rows in belongings.histories.items():
            raw_delete(model, [row.pk for row in rows])
        for model in reversed(tables()):
            if model in belongings.rows and model not in SHARED:
                raw_delete(model, list(belongings.rows[model]))


def raw_delete(model, pks):
    rows = model._default_manager.filter(pk__in=pks)
    rows._raw_delete(rows.db)


def triggers():
    """Triggers of our tables that are there and at work."""
    of_vendor = {
        "sqlite": "SELECT name, sql FROM sqlite_master WHERE type = 'trigger' ORDER BY name",
        "postgresql": "SELECT tgname, pg_get_triggerdef(oid) FROM pg_trigger"
        " WHERE NOT tgisinternal AND tgenabled = 'O' ORDER BY tgname",
    }
    with connection.cursor() as cursor:
        cursor.execute(of_vendor[connection.vendor])
        return cursor.fetchall()
