"""Fish that members offer to be sent: each her own, whoever packs everybody's."""

from zoneinfo import ZoneInfo

from django.utils import timezone
from django_filters import FilterSet
from rest_framework import serializers
from rest_framework.response import Response
from rest_framework.views import APIView

from api.body import read_body
from api.buyers import BuyerName
from api.cooperative import person_of
from api.departures_item import InstantOut
from api.editions import Edited, with_edition
from api.enrolment_codes import MemberName
from api.filtering import OneOf, Slug, Whole
from api.given import Given, status_of
from api.question import Number
from api.question_fields import LARGEST, Instant, Note, chosen
from api.roles import MEMBERS, PACKERS
from api.rounding import written
from api.routes import RouteName
from api.sign_in import NothingIn
from api.stored import Row, Rows, one_of
from coop.selectors.buyers import buyers_of
from coop.selectors.lots import LOT_STATES, lots_of
from coop.selectors.members import members_of
from coop.selectors.routes import routes_of
from coop.selectors.species import all_species
from coop.services.lots import change_lot, offer_lot, withdraw_lot

LOT_ID = "7d9f1c1e-3f0a-4f0e-9c51-2f5b6a0d4c12"
PARCEL_ID = "7d9f1c1e-3f0a-4f0e-9c51-2f5b6a0d4c13"
PARCEL_STATES = ("open", "closed", "departed", "handed_over", "settled", "called_off")
INSTANT = "an instant such as 2026-03-02T16:00:00+02:00"


class FishName(serializers.Serializer):
    code = serializers.CharField(help_text="three letters of FAO ASFIS")
    name = serializers.CharField()

    example = {"code": "IRQ", "name": "Sleek lates"}


class LotParcelOut(serializers.Serializer):
    id = serializers.UUIDField()
    state = serializers.CharField(help_text=", ".join(PARCEL_STATES))
    departs_at = InstantOut()
    mass_kg = serializers.FloatField(help_text="of this lot")

    example = {
        "id": PARCEL_ID,
        "state": "open",
        "departs_at": "2026-03-02T16:00:00+02:00",
        "mass_kg": 20.0,
    }


class LotOut(Edited):
    id = serializers.UUIDField()
    member = MemberName()
    route = RouteName()
    buyer = BuyerName()
    species = FishName()
    mass_kg = serializers.FloatField()
    frozen_since = InstantOut()
    ready_at = InstantOut()
    start_temperature_c = serializers.FloatField()
    deliver_by = InstantOut(allow_null=True)
    may_be_split = serializers.BooleanField()
    offered_at = InstantOut()
    withdrawn_at = InstantOut(allow_null=True)
    note = serializers.CharField()
    state = serializers.CharField(help_text=", ".join(LOT_STATES))
    placed_kg = serializers.FloatField(help_text="in cartons")
    promised_kg = serializers.FloatField(help_text="accepted by quotes made from it; by now a lot of its own")
    left_kg = serializers.FloatField(help_text="that waits for a carton")
    parcels = LotParcelOut(many=True)

    example = {
        "id": LOT_ID,
        "member": MemberName.example,
        "route": RouteName.example,
        "buyer": BuyerName.example,
        "species": FishName.example,
        "mass_kg": 20.0,
        "frozen_since": "2026-02-28T06:00:00+02:00",
        "ready_at": "2026-03-01T06:00:00+02:00",
        "start_temperature_c": -18.0,
        "deliver_by": None,
        "may_be_split": False,
        "offered_at": "2026-03-01T07:00:00+02:00",
        "withdrawn_at": None,
        "note": "two bags",
        "state": "placed",
        "placed_kg": 20.0,
        "promised_kg": 0.0,
        "left_kg": 0.0,
        "parcels": [LotParcelOut.example],
    }

    def to_representation(self, lot):
        return lot_item(lot, ZoneInfo(self.context["person"].cooperative.time_zone))


class LotChangeIn(serializers.Serializer):
    route = serializers.SlugField(max_length=64)
    buyer = serializers.SlugField(max_length=64, help_text="short name of a buyer at the end of the route")
    species = serializers.CharField(max_length=3, help_text="three letters of FAO ASFIS such as IRQ")
    mass_kg = Number(min_value=0.1, max_value=5000)
    frozen_since = Instant()
    ready_at = Instant(help_text=f"{INSTANT}: when it can be packed, frozen through")
    start_temperature_c = Number(min_value=-45, max_value=-2.5)
    deliver_by = Instant(allow_null=True, default=None, help_text=f"{INSTANT}, or null: no hurry")
    may_be_split = serializers.BooleanField(default=False)
    note = Note()

    example = {
        "route": "mpulungu-kasama",
        "buyer": "city-market",
        "species": "IRQ",
        "mass_kg": 20.0,
        "frozen_since": "2026-02-28T06:00:00+02:00",
        "ready_at": "2026-03-01T06:00:00+02:00",
        "start_temperature_c": -18.0,
        "deliver_by": None,
        "may_be_split": False,
        "note": "two bags",
    }


class LotIn(Given, LotChangeIn):
    member = serializers.IntegerField(
        min_value=1, max_value=LARGEST, required=False, help_text="id of its owner; else whoever asks"
    )

    example = {**Given.example, "member": 3, **LotChangeIn.example}


class LotFilters(FilterSet):
    member = Whole(field_name="member__id")
    state = OneOf(*LOT_STATES)
    route = Slug(field_name="route__slug")
    buyer = Slug(field_name="buyer__slug")


def lots_for(person):
    """Her own; all of the cooperative for whoever packs."""
    lots = lots_of(person.cooperative)
    return lots if person.role in PACKERS else lots.filter(member=person.member)


class Lots(Rows):
    """A member's own lots, and for whoever packs all, with what became of each."""

    may = {"GET": MEMBERS, "POST": MEMBERS}
    select_for = staticmethod(lots_for)
    filters = LotFilters
    body = {"POST": LotIn}
    output = LotOut
    status = {"POST": 201}

    def post(self, request):
        asked, person, now = read_body(LotIn, request), person_of(request), timezone.now()
        lot = offer_lot(by=person.member, **rows_named(asked, person), now=now)
        return Response(lot_shown(lot, person), status=status_of(lot.offered_at, now))


class Lot(Row):
    """One lot. While any of it lies in a carton or is promised only its note changes."""

    may = {"GET": MEMBERS, "PATCH": MEMBERS}
    select_for = staticmethod(lots_for)
    body = {"PATCH": LotChangeIn}
    output = LotOut

    def patch(self, request, uuid):
        person = person_of(request)
        lot = one_of(lots_for(person), uuid=uuid)
        asked = read_body(LotChangeIn, request, partial=True)
        lot = change_lot(by=person.member, lot=lot, **rows_named(asked, person), now=timezone.now())
        return Response(lot_shown(lot, person))


class Withdrawal(APIView):
    """Takes a lot, or what is left of it, off the offer."""

    may = {"POST": MEMBERS}
    body = {"POST": NothingIn}
    output = LotOut

    def post(self, request, uuid):
        person = person_of(request)
        lot = one_of(lots_for(person), uuid=uuid)
        read_body(NothingIn, request)
        return Response(lot_shown(withdraw_lot(by=person.member, lot=lot, now=timezone.now()), person))


def rows_named(asked, person):
    """What a service takes: rows in place of the words that name them."""
    named = {
        "route": lambda slug: chosen(routes_of(person.cooperative), "route", slug),
        "buyer": lambda slug: chosen(buyers_of(person.cooperative), "buyer", slug),
        "species": lambda code: chosen(all_species(), "species", code, key="code"),
        "member": lambda pk: chosen(members_of(person.cooperative), "member", pk, key="pk"),
    }
    return {name: named[name](value) if name in named else value for name, value in asked.items()}


def lot_shown(lot, person):
    return LotOut(lot, context={"person": person}).data


def lot_item(lot, zone):
    """LotOut of a lot of lots_of."""
    shown = {
        "id": str(lot.uuid),
        "member": name_of(lot.member),
        "route": slug_of(lot.route),
        "buyer": slug_of(lot.buyer),
        "species": fish_of(lot.species),
        "mass_kg": lot.mass_kg,
        "frozen_since": written(lot.frozen_since, zone),
        "ready_at": written(lot.ready_at, zone),
        "start_temperature_c": lot.start_temperature_c,
        "deliver_by": written(lot.deliver_by, zone),
        "may_be_split": lot.may_be_split,
        "offered_at": written(lot.offered_at, zone),
        "withdrawn_at": written(lot.withdrawn_at, zone),
        "note": lot.note,
        "state": lot.state,
        "placed_kg": round(lot.placed_kg, 3),
        "promised_kg": round(lot.promised_kg, 3),
        "left_kg": round(lot.left_kg, 3),
        "parcels": parcels_item(lot, zone),
    }
    return with_edition(shown)


def parcels_item(lot, zone):
    """Parcels in which a lot lies, each once however many of its cartons hold some of it."""
    masses = {}
    for part in lot.parts.all():
        masses.setdefault(part.carton.parcel, []).append(part.mass_kg)
    return [
        {
            "id": str(parcel.uuid),
            "state": parcel.state,
            "departs_at": written(parcel.departs_at, zone),
            "mass_kg": round(sum(found), 3),
        }
        for parcel, found in masses.items()
    ]


def name_of(member):
    return {"id": member.pk, "name": member.name}


def slug_of(row):
    return {"slug": row.slug, "name": row.name}


def fish_of(species):
    return {"code": species.code, "name": species.name_en}
