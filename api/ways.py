from django.utils import timezone
from rest_framework import serializers
from rest_framework.response import Response
from rest_framework.views import APIView

from api.cartons import CartonDesignName
from api.cooperative import person_of
from api.departures import coin_of
from api.departures_item import InstantOut
from api.question import read
from api.roles import MEMBERS
from api.rounding import down, minute_down, minute_up, written
from api.ways_question import WaysQuestion, echo_of, question_of
from api.ways_words import means, reason_of
from coop.selectors.ways import best_of, ways_of


class WaysEchoOut(serializers.Serializer):
    """The question with its defaults filled in."""

    route = serializers.CharField()
    buyer = serializers.CharField()
    species = serializers.CharField()
    mass_kg = serializers.FloatField()
    start_temperature_c = serializers.FloatField()
    ready_at = InstantOut()
    deliver_by = InstantOut(allow_null=True)
    days = serializers.IntegerField()
    lot = serializers.UUIDField(allow_null=True)

    example = {
        "route": "mpulungu-kasama",
        "buyer": "city-market",
        "species": "IRQ",
        "mass_kg": 20.0,
        "start_temperature_c": -18.0,
        "ready_at": "2026-03-02T08:00:00+02:00",
        "deliver_by": None,
        "days": 7,
        "lot": None,
    }


class WayReasonOut(serializers.Serializer):
    code = serializers.CharField()
    values = serializers.DictField(help_text="the figures behind the words, with their units")
    words = serializers.CharField()

    example = {
        "code": "no_room",
        "values": {"room_kg": 8.0, "mass_kg": 20.0},
        "words": "No shared carton has room for 20 kg: 8 kg are left.",
    }


class WayOut(serializers.Serializer):
    """Null throughout where it cannot be gone; `reason` then says why."""

    way = serializers.ChoiceField(choices=["alone", "share", "wait"])
    available = serializers.BooleanField()
    safe = serializers.BooleanField()
    cost_minor = serializers.IntegerField(
        allow_null=True, help_text="all this fish pays: expected loss and waiting included"
    )
    cost_per_kg_minor = serializers.IntegerField(allow_null=True, help_text="of a sound kilogram; rounded up")
    storage_minor = serializers.IntegerField(allow_null=True, help_text="of cost_minor; null: not known")
    quality_minor = serializers.IntegerField(allow_null=True, help_text="of cost_minor; null: not known")
    chance_hard = serializers.FloatField(allow_null=True, help_text="rounded down")
    departs_at = InstantOut(allow_null=True)
    closes_at = InstantOut(allow_null=True)
    arrives_from = InstantOut(allow_null=True, help_text="in the buyer's freezer no sooner in nine of ten")
    arrives_until = InstantOut(allow_null=True, help_text="in the buyer's freezer by then in nine of ten")
    departure = serializers.CharField(allow_null=True, help_text="as in departures/")
    parcel = serializers.UUIDField(allow_null=True, help_text="null to share: none is open yet")
    carton_design = CartonDesignName(allow_null=True)
    cartons = serializers.IntegerField(allow_null=True)
    members = serializers.IntegerField(allow_null=True, help_text="who share it, the asker counted")
    kg_missing = serializers.FloatField(allow_null=True, help_text="to wait: kg that would fill the carton")
    filled_cost_per_kg_minor = serializers.IntegerField(
        allow_null=True, help_text="to wait: if that came together; null: not safe, or not known"
    )
    reason = WayReasonOut(allow_null=True)
    words = serializers.CharField()

    example = {
        "way": "wait",
        "available": True,
        "safe": True,
        "cost_minor": 52180,
        "cost_per_kg_minor": 2610,
        "storage_minor": 180,
        "quality_minor": 1900,
        "chance_hard": 0.982,
        "departs_at": "2026-03-05T16:00:00+02:00",
        "closes_at": "2026-03-05T15:20:00+02:00",
        "arrives_from": "2026-03-05T22:10:00+02:00",
        "arrives_until": "2026-03-06T01:40:00+02:00",
        "departure": "7-20260305-common-carton",
        "parcel": None,
        "carton_design": CartonDesignName.example,
        "cartons": 1,
        "members": 1,
        "kg_missing": 80.5,
        "filled_cost_per_kg_minor": 760,
        "reason": None,
        "words": "The fish stays in the freezer and leaves later, by itself.",
    }


class WaysOut(serializers.Serializer):
    question = WaysEchoOut()
    currency = serializers.CharField()
    currency_decimals = serializers.IntegerField()
    ways = WayOut(many=True)
    best = serializers.CharField(allow_null=True, help_text="the cheapest that can be gone")

    example = {
        "question": WaysEchoOut.example,
        "currency": "ZMW",
        "currency_decimals": 2,
        "ways": [WayOut.example],
        "best": "wait",
    }


class Ways(APIView):
    """Send now alone, share, or wait: the cost, the risk and the day of each."""

    may = {"GET": MEMBERS}
    question = WaysQuestion
    output = WaysOut

    def get(self, request):
        question = question_of(read(WaysQuestion, request), person_of(request), timezone.now())
        ways = ways_of(question)
        best = best_of(ways)
        return Response(
            {
                "question": echo_of(question),
                **coin_of(question.cooperative),
                "ways": [way_out(way, question.zone) for way in ways],
                "best": best and best.way,
            }
        )


def way_out(way, zone):
    """WayOut of a selectors' Way."""
    trip = trip_out(way.trip, zone) if way.trip else dict.fromkeys(OF_A_TRIP)
    return {
        "way": way.way,
        "available": way.trip is not None,
        "safe": way.trip is not None,
        **trip,
        "kg_missing": way.kg_missing,
        "filled_cost_per_kg_minor": way.filled_per_kg_minor,
        "reason": reason_of(way),
        "words": means(way),
    }


OF_A_TRIP = (
    *("cost_minor", "cost_per_kg_minor", "storage_minor", "quality_minor", "chance_hard"),
    *("departs_at", "closes_at", "arrives_from", "arrives_until"),
    *("departure", "parcel", "carton_design", "cartons", "members"),
)


def trip_out(trip, zone):
    departure = trip.departure
    design, judged = departure.design, departure.judgement
    first, _, last = (departure.after_closing(seconds) for seconds in judged.window)
    return {
        "cost_minor": trip.cost_minor,
        "cost_per_kg_minor": trip.cost_per_kg_minor,
        "storage_minor": trip.waiting.storage_minor,
        "quality_minor": trip.waiting.quality_minor,
        "chance_hard": down(judged.chance_hard, 3),
        "departs_at": written(departure.slot.departs_at, zone),
        "closes_at": written(departure.closes_at, zone),
        "arrives_from": written(minute_down(first), zone),
        "arrives_until": written(minute_up(last), zone),
        "departure": departure.key,
        "parcel": trip.parcel and str(trip.parcel),
        "carton_design": {"slug": design.slug, "name": design.name, "returnable": design.returnable},
        "cartons": departure.cartons,
        "members": trip.members,
    }
