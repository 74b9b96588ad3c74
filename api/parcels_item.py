"""A parcel as it is shown: its cartons with whose fish lies in them, how safe they are, and its money."""

from zoneinfo import ZoneInfo

from rest_framework import serializers

from api.buyers import BuyerName
from api.cartons import CartonDesignName
from api.departures_item import InstantOut, VehicleOut, vehicle_of
from api.editions import Edited, with_edition
from api.enrolment_codes import MemberName
from api.lots import LOT_ID, PARCEL_ID, PARCEL_STATES, FishName, fish_of, name_of, slug_of
from api.parcels_reasons import ToldReasonOut, overdue, unsafe
from api.refusal_words import told_here
from api.rounding import down, minute_down, written
from api.routes import RouteName
from coop.selectors.parcel_judgement import local_day

# What moves with the clock, with prices, or with who looks: no edition of a parcel rests on it.
MOVING = frozenset(
    ["chance_hard", "cost_minor", "cost_per_kg_minor", "latest_safe_departure_at", "mine", "reason", "safe"]
)


class PartOut(serializers.Serializer):
    lot = serializers.UUIDField()
    member = MemberName()
    species = FishName()
    mass_kg = serializers.FloatField()
    mine = serializers.BooleanField(help_text="it is fish of whoever asks")

    example = {
        "lot": LOT_ID,
        "member": MemberName.example,
        "species": FishName.example,
        "mass_kg": 20.0,
        "mine": True,
    }


class CartonOut(serializers.Serializer):
    position = serializers.IntegerField(help_text="the number that is written on it")
    capacity_kg = serializers.FloatField()
    mass_kg = serializers.FloatField()
    room_kg = serializers.FloatField(help_text="none once it is closed")
    closed_at = InstantOut(allow_null=True)
    gross_mass_kg = serializers.FloatField(allow_null=True, help_text="as weighed")
    safe = serializers.BooleanField(
        allow_null=True, help_text="with what it holds now; null: empty, or called off"
    )
    chance_hard = serializers.FloatField(allow_null=True, help_text="rounded down")
    latest_safe_departure_at = InstantOut(allow_null=True)
    reason = ToldReasonOut(allow_null=True, help_text="null: it is safe, or empty")
    parts = PartOut(many=True)

    example = {
        "position": 1,
        "capacity_kg": 100.5,
        "mass_kg": 20.0,
        "room_kg": 80.5,
        "closed_at": None,
        "gross_mass_kg": None,
        "safe": True,
        "chance_hard": 0.982,
        "latest_safe_departure_at": "2026-03-02T18:30:00+02:00",
        "reason": None,
        "parts": [PartOut.example],
    }


class MineOut(serializers.Serializer):
    mass_kg = serializers.FloatField()
    share_minor = serializers.IntegerField(
        allow_null=True, help_text="by the rule that counts; in a list null while it is open"
    )
    alone_minor = serializers.IntegerField(
        allow_null=True, help_text="the least that it would cost alone; null: no safe way alone, or not known"
    )

    example = {"mass_kg": 20.0, "share_minor": 27025, "alone_minor": 48200}


class HandedOverOut(serializers.Serializer):
    arrived_at = InstantOut(allow_null=True)
    at = InstantOut()
    is_hard = serializers.BooleanField()
    soft_kg = serializers.FloatField()
    core_temperature_c = serializers.FloatField(allow_null=True)
    received_by = serializers.CharField()
    note = serializers.CharField()

    example = {
        "arrived_at": "2026-03-03T13:00:00+02:00",
        "at": "2026-03-03T14:00:00+02:00",
        "is_hard": True,
        "soft_kg": 0.0,
        "core_temperature_c": -9.5,
        "received_by": "Stallkeeper",
        "note": "",
    }


class CalledOffOut(serializers.Serializer):
    at = InstantOut()
    note = serializers.CharField(help_text="why it did not leave")

    example = {"at": "2026-03-02T19:00:00+02:00", "note": "The minibus did not come."}


class ParcelOut(Edited):
    id = serializers.UUIDField()
    state = serializers.CharField(help_text=", ".join(PARCEL_STATES))
    route = RouteName()
    buyer = BuyerName()
    carrier = VehicleOut()
    carton_design = CartonDesignName()
    timetable = serializers.IntegerField()
    departs_at = InstantOut()
    closes_at = InstantOut(help_text="as planned")
    departure = serializers.CharField(help_text="its id among the departures")
    opened_by = MemberName()
    cartons = CartonOut(many=True)
    mass_kg = serializers.FloatField()
    room_kg = serializers.FloatField()
    members = serializers.IntegerField(help_text="whose fish lies in it")
    cost_minor = serializers.IntegerField(
        allow_null=True,
        help_text="for whoever packs or has fish in it; in a list null while it is open, as it moves;"
        " of one that was called off what was spent all the same",
    )
    cost_per_kg_minor = serializers.IntegerField(
        allow_null=True, help_text="rounded up; null where no kilogram travels: it was called off"
    )
    sharing_rule = serializers.CharField(help_text="that counted when it closed; before that empty")
    mine = MineOut(allow_null=True)
    closed_at = InstantOut(allow_null=True)
    departed_at = InstantOut(allow_null=True)
    driver = serializers.CharField()
    plate = serializers.CharField()
    departed_note = serializers.CharField()
    handed_over = HandedOverOut(allow_null=True)
    settled_at = InstantOut(allow_null=True)
    called_off = CalledOffOut(
        allow_null=True, help_text="closed, it did not leave: its fish is in the freezer again"
    )

    example = {
        "id": PARCEL_ID,
        "state": "open",
        "route": RouteName.example,
        "buyer": BuyerName.example,
        "carrier": VehicleOut.example,
        "carton_design": CartonDesignName.example,
        "timetable": 7,
        "departs_at": "2026-03-02T16:00:00+02:00",
        "closes_at": "2026-03-02T15:20:00+02:00",
        "departure": "7-20260302-common-carton",
        "opened_by": {"id": 1, "name": "Esther"},
        "cartons": [CartonOut.example],
        "mass_kg": 20.0,
        "room_kg": 80.5,
        "members": 1,
        "cost_minor": 74310,
        "cost_per_kg_minor": 3716,
        "sharing_rule": "",
        "mine": MineOut.example,
        "closed_at": None,
        "departed_at": None,
        "driver": "",
        "plate": "",
        "departed_note": "",
        "handed_over": None,
        "settled_at": None,
        "called_off": None,
    }


def parcel_item(parcel, person, judged, money, now):
    """ParcelOut of a parcel of parcels_of, Judged by carton, and the ParcelMoney that this person may see."""
    zone, design = ZoneInfo(parcel.cooperative.time_zone), parcel.design
    parts, clock = parts_of(parcel), (zone, now)
    called_off = called_off_of(parcel, zone)
    shown = {
        "id": str(parcel.uuid),
        "state": parcel.state,
        "route": slug_of(parcel.route),
        "buyer": slug_of(parcel.buyer),
        "carrier": vehicle_of(parcel.timetable.carrier),
        "carton_design": {**slug_of(design), "returnable": design.returnable},
        "timetable": parcel.timetable_id,
        "departs_at": written(parcel.departs_at, zone),
        "closes_at": written(parcel.closes_at, zone),
        "departure": f"{parcel.timetable_id}-{local_day(parcel):%Y%m%d}-{design.slug}",
        "opened_by": name_of(parcel.opened_by),
        "cartons": [carton_item(one, parcel, person, judged, clock) for one in parcel.cartons.all()],
        "mass_kg": parcel.mass_kg,
        "room_kg": parcel.room_kg,
        "members": len({part.lot.member_id for part in parts}),
        "cost_minor": money.cost_minor,
        "cost_per_kg_minor": None if called_off else a_kilogram(money.cost_minor, parcel.mass_kg),
        "sharing_rule": parcel.sharing_rule,
        "mine": mine_of(parts, person, money),
        "closed_at": written(parcel.closed_at, zone),
        "departed_at": written(parcel.departed_at, zone),
        "driver": parcel.driver,
        "plate": parcel.plate,
        "departed_note": parcel.departed_note,
        "handed_over": handed_over_of(parcel, zone),
        "settled_at": written(parcel.settled_at, zone),
        "called_off": called_off,
    }
    return with_edition(shown, but=MOVING)


def parts_of(parcel):
    return [part for carton in parcel.cartons.all() for part in carton.parts.all()]


def a_kilogram(cost_minor, mass_kg):
    """Rounded up, or null: nobody is told less than it costs."""
    return None if cost_minor is None or not mass_kg else -int(-cost_minor * 1000 // round(mass_kg * 1000))


def mine_of(parts, person, money):
    masses = [part.mass_kg for part in parts if part.lot.member_id == person.member.pk]
    if not masses:
        return None
    return {
        "mass_kg": round(sum(masses), 3),
        "share_minor": money.share_minor,
        "alone_minor": money.alone_minor,
    }


def carton_item(carton, parcel, person, judged, clock):
    zone = clock[0]
    return {
        "position": carton.position,
        "capacity_kg": carton.capacity_kg,
        "mass_kg": carton.mass_kg,
        "room_kg": carton.room_kg,
        "closed_at": written(carton.closed_at, zone),
        "gross_mass_kg": carton.gross_mass_kg,
        **safety_of(carton, parcel, judged.get(carton.pk), clock),
        "parts": [part_item(part, person) for part in carton.parts.all()],
    }


def safety_of(carton, parcel, judged, clock):
    """As judged with what it holds now, or as it was when it closed, unless it left too late since."""
    zone, now = clock
    travels_no_more = parcel.called_off_at is not None
    if travels_no_more or (carton.closed_at is None and judged is None):
        return dict.fromkeys(("safe", "chance_hard", "latest_safe_departure_at", "reason"))
    found = judged or carton
    reason = unsafe(judged, zone) if judged else overdue(carton, parcel, zone, now)
    # What was promised for leaving in time is no promise for leaving too late.
    chance = None if judged is None and reason else down(found.chance_hard, 3)
    return {
        "safe": reason is None,
        "chance_hard": chance,
        "latest_safe_departure_at": written(minute_down(found.latest_safe_departure_at), zone),
        "reason": reason and {**reason, **told_here(reason["words"])},
    }


def part_item(part, person):
    lot = part.lot
    return {
        "lot": str(lot.uuid),
        "member": name_of(lot.member),
        "species": fish_of(lot.species),
        "mass_kg": part.mass_kg,
        "mine": lot.member_id == person.member.pk,
    }


def handed_over_of(parcel, zone):
    if parcel.handed_over_at is None:
        return None
    return {
        "arrived_at": written(parcel.arrived_at, zone),
        "at": written(parcel.handed_over_at, zone),
        "is_hard": parcel.is_hard,
        "soft_kg": parcel.soft_kg,
        "core_temperature_c": parcel.core_temperature_c,
        "received_by": parcel.received_by,
        "note": parcel.handed_over_note,
    }


def called_off_of(parcel, zone):
    if parcel.called_off_at is None:
        return None
    return {"at": written(parcel.called_off_at, zone), "note": parcel.called_off_note}
