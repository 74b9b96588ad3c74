"""What is done with a parcel, step by step; each answers with the parcel as it then is."""

from zoneinfo import ZoneInfo

from django.utils import timezone
from rest_framework import serializers
from rest_framework.response import Response
from rest_framework.views import APIView

from api.body import read_body
from api.cooperative import person_of
from api.given import WHAT, Given, known
from api.lots import INSTANT, LOT_ID
from api.parcels import parcel_shown
from api.parcels_item import ParcelOut
from api.parcels_reasons import told
from api.question import Number
from api.question_fields import Instant, Note
from api.roles import MEMBERS, PACKERS
from api.sign_in import NothingIn
from api.stored import one_of
from coop.selectors.lots import lots_of
from coop.selectors.parcels import carton_at, parcels_of
from coop.services.calling_off import call_off_parcel
from coop.services.closing import close_carton, record_departure, record_hand_over
from coop.services.corrections import correct_bill
from coop.services.parcels import add_carton, drop_carton, join_parcel, leave_parcel
from coop.services.settling import settle_parcel

MONEY = 10**12


class LotInParcelIn(serializers.Serializer):
    lot = serializers.UUIDField(help_text=WHAT)

    example = {"lot": LOT_ID}


class JoinIn(LotInParcelIn):
    mass_kg = Number(
        min_value=0.001,
        max_value=5000,
        allow_null=True,
        default=None,
        help_text="a number from 0.001 to 5000, or null: all that is left of it",
    )
    carton = serializers.IntegerField(
        min_value=1, max_value=1000, allow_null=True, default=None, help_text="its number, or null: any"
    )

    example = {**LotInParcelIn.example, "mass_kg": None, "carton": None}


def core_temperature():
    """The field of a temperature that may have been measured."""
    return Number(
        min_value=-60,
        max_value=60,
        allow_null=True,
        default=None,
        help_text="°C from -60 to 60 in the middle of the fish, or null: not measured",
    )


class CloseIn(serializers.Serializer):
    closed_at = Instant(allow_null=True, default=None, help_text=f"{INSTANT}, or null: now")
    gross_mass_kg = Number(
        min_value=0.1,
        max_value=6000,
        allow_null=True,
        default=None,
        help_text="a number from 0.1 to 6000, or null: not weighed",
    )
    core_temperature_c = core_temperature()

    example = {"closed_at": None, "gross_mass_kg": 131.2, "core_temperature_c": -17.5}


class DepartIn(serializers.Serializer):
    departed_at = Instant()
    driver = serializers.CharField(max_length=120, allow_blank=True, default="")
    plate = serializers.CharField(max_length=32, allow_blank=True, default="")
    note = Note()

    example = {"departed_at": "2026-03-02T16:20:00+02:00", "driver": "Moses", "plate": "ABC 123", "note": ""}


class HandOverIn(serializers.Serializer):
    arrived_at = Instant(allow_null=True, default=None, help_text=f"{INSTANT}, or null: not known")
    handed_over_at = Instant()
    is_hard = serializers.BooleanField()
    soft_kg = Number(
        min_value=0,
        max_value=1_000_000,
        allow_null=True,
        default=None,
        help_text="kilograms that had softened; null only of hard fish",
    )
    core_temperature_c = core_temperature()
    received_by = serializers.CharField(max_length=120, allow_blank=True, default="")
    note = Note()

    example = {
        "arrived_at": "2026-03-03T13:00:00+02:00",
        "handed_over_at": "2026-03-03T14:00:00+02:00",
        "is_hard": True,
        "soft_kg": 0.0,
        "core_temperature_c": -9.5,
        "received_by": "Stallkeeper",
        "note": "",
    }


class CallOffIn(serializers.Serializer):
    note = Note(wanted="why it did not leave")

    example = {"note": "The minibus did not come."}


class SettleIn(serializers.Serializer):
    received_minor = serializers.IntegerField(
        min_value=0,
        max_value=MONEY,
        allow_null=True,
        help_text="whole minor units that the buyer paid, or null: he pays each owner himself",
    )

    example = {"received_minor": 550000}


class CorrectionIn(Given):
    amount_minor = serializers.IntegerField(
        min_value=-MONEY, max_value=MONEY, help_text="whole minor units, below 0 for what came back"
    )
    note = Note(wanted="what was paid, or came back, and why")

    example = {**Given.example, "amount_minor": 3000, "note": "toll at the bridge"}


class Step(APIView):
    """One thing that is done with a parcel."""

    output = ParcelOut

    def post(self, request, uuid, **place):
        person = person_of(request)
        parcel = one_of(parcels_of(person.cooperative), uuid=uuid)
        asked = read_body(self.body["POST"], request)
        with told(ZoneInfo(person.cooperative.time_zone)):
            self.do(person.member, parcel, asked, timezone.now(), **place)
        return Response(parcel_shown(one_of(parcels_of(person.cooperative), uuid=uuid), person))


class Join(Step):
    """Puts a lot, or so much of it, into a parcel. Without room the refusal names the next departure."""

    may = {"POST": MEMBERS}
    body = {"POST": JoinIn}

    def do(self, by, parcel, asked, now):
        lot = lot_named_in(asked, by)
        join_parcel(by=by, parcel=parcel, lot=lot, mass_kg=asked["mass_kg"], carton=asked["carton"], now=now)


class Leave(Step):
    """Takes a lot out of the open cartons of a parcel."""

    may = {"POST": MEMBERS}
    body = {"POST": LotInParcelIn}

    def do(self, by, parcel, asked, now):
        leave_parcel(by=by, parcel=parcel, lot=lot_named_in(asked, by))


class MoreCartons(Step):
    """One more empty carton, on one more place of the vehicle."""

    may = {"POST": PACKERS}
    body = {"POST": NothingIn}

    def do(self, by, parcel, asked, now):
        add_carton(by=by, parcel=parcel)


class Drop(Step):
    """Gives the place of an empty carton back to the vehicle."""

    may = {"POST": PACKERS}
    body = {"POST": NothingIn}

    def do(self, by, parcel, asked, now, position):
        drop_carton(by=by, parcel=parcel, position=position, now=now)


class Close(Step):
    """Closes a carton for good, if what it holds travels safely. With the last one its bill is written."""

    may = {"POST": PACKERS}
    body = {"POST": CloseIn}

    def do(self, by, parcel, asked, now, position):
        close_carton(by=by, carton=carton_at(parcel, position), **asked, now=now)


class Depart(Step):
    """The parcel has left."""

    may = {"POST": PACKERS}
    body = {"POST": DepartIn}

    def do(self, by, parcel, asked, now):
        record_departure(by=by, parcel=parcel, **asked, now=now)


class HandOver(Step):
    """The parcel is in the buyer's freezer: hard, or so much of it soft."""

    may = {"POST": PACKERS}
    body = {"POST": HandOverIn}

    def do(self, by, parcel, asked, now):
        record_hand_over(by=by, parcel=parcel, **asked, now=now)


class Settle(Step):
    """The buyer's money is with its owners."""

    may = {"POST": PACKERS}
    body = {"POST": SettleIn}

    def do(self, by, parcel, asked, now):
        settle_parcel(by=by, parcel=parcel, received_minor=asked["received_minor"], at=now)


class CallOff(Step):
    """The parcel was closed and did not leave: its fish goes back into the freezer, nobody owes its bill."""

    may = {"POST": PACKERS}
    body = {"POST": CallOffIn}

    def do(self, by, parcel, asked, now):
        call_off_parcel(by=by, parcel=parcel, note=asked["note"], now=now)


class Corrections(Step):
    """A cost that became known after the bill was shared, spread over all as the bill was."""

    may = {"POST": PACKERS}
    body = {"POST": CorrectionIn}

    def do(self, by, parcel, asked, now):
        correct_bill(by=by, parcel=parcel, **asked, at=now)


def lot_named_in(asked, by):
    return known(lots_of(by.cooperative), "lot", asked["lot"], "the id of a lot that is on offer")
