"""One departure with one carton design, as the list shows it."""

from datetime import datetime

from rest_framework import serializers

from api.carriers import CarrierName
from api.cartons import CartonDesignName
from api.departures_reasons import reason_of
from api.refusal_words import words_here
from api.rounding import down, hours_down, minute_down, minute_up, up, written
from api.routes import RouteName
from coop.selectors.old_prices import old_lines


class InstantOut(serializers.DateTimeField):
    """An instant by the clock of the cooperative."""

    def to_internal_value(self, value):
        return datetime.fromisoformat(value)

    def to_representation(self, value):
        return value.isoformat()


class VehicleOut(CarrierName):
    vehicle = serializers.CharField()
    ride = serializers.CharField()

    example = {**CarrierName.example, "vehicle": "minibus", "ride": "roof"}


class ReasonOut(serializers.Serializer):
    code = serializers.CharField()
    values = serializers.DictField(help_text="the figures behind the words, with their units")
    words = serializers.CharField()

    example = {
        "code": "hold_too_short",
        "values": {
            "hold_cautious_h": 21.0,
            "needed_h": 27.1,
            "arrives_until": "2026-03-03T19:00:00+02:00",
        },
        "words": "The carton surely holds only 21 h; the fish may need 27.1 h to the buyer's freezer.",
    }


class RestsOnOut(serializers.Serializer):
    trips = serializers.IntegerField(help_text="logged trips behind the hours of the journey")
    insulation_measured = serializers.BooleanField()
    weather = serializers.CharField(help_text="climate, forecast or observed: what is known least well")

    example = {"trips": 0, "insulation_measured": False, "weather": "climate"}


class DepartureOut(serializers.Serializer):
    id = serializers.CharField(help_text="timetable, day and carton design")
    route = RouteName()
    carrier = VehicleOut()
    carton_design = CartonDesignName()
    cartons = serializers.IntegerField()
    mass_kg = serializers.FloatField()
    departs_at = InstantOut()
    leaves_when_full = serializers.BooleanField()
    closes_at = InstantOut()
    close_no_earlier_than = InstantOut(allow_null=True)
    latest_safe_departure_at = InstantOut(allow_null=True)
    safe = serializers.BooleanField()
    chance_hard = serializers.FloatField(help_text="rounded down")
    expected_softened_share = serializers.FloatField(help_text="rounded up")
    arrives_from = InstantOut(allow_null=True, help_text="in the buyer's freezer no sooner in nine of ten")
    arrives_median = InstantOut(allow_null=True)
    arrives_until = InstantOut(allow_null=True, help_text="in the buyer's freezer by then in nine of ten")
    margin_h = serializers.FloatField(allow_null=True, help_text="hours to spare; rounded down")
    hold_best_h = serializers.FloatField(allow_null=True, help_text="best estimate; rounded down")
    hold_cautious_h = serializers.FloatField(allow_null=True, help_text="a poor wall; rounded down")
    hold_is_at_least = serializers.BooleanField(help_text="the limit was not passed as long as was looked")
    cost_minor = serializers.IntegerField(allow_null=True)
    cost_per_kg_minor = serializers.IntegerField(allow_null=True, help_text="rounded up")
    cost_missing = serializers.ListField(
        child=serializers.CharField(), help_text="prices without which no cost can be named"
    )
    sound_kg = serializers.FloatField(allow_null=True)
    old_prices = serializers.IntegerField(help_text="lines of the cost that rest on an old price")
    reason = ReasonOut(allow_null=True, help_text="null: it is safe")
    rests_on = RestsOnOut()

    example = {
        "id": "7-20260302-common-carton",
        "route": RouteName.example,
        "carrier": VehicleOut.example,
        "carton_design": CartonDesignName.example,
        "cartons": 1,
        "mass_kg": 80.0,
        "departs_at": "2026-03-02T16:00:00+02:00",
        "leaves_when_full": False,
        "closes_at": "2026-03-02T15:20:00+02:00",
        "close_no_earlier_than": None,
        "latest_safe_departure_at": None,
        "safe": False,
        "chance_hard": 0.779,
        "expected_softened_share": 0.0377,
        "arrives_from": "2026-03-03T12:40:00+02:00",
        "arrives_median": "2026-03-03T14:57:00+02:00",
        "arrives_until": "2026-03-03T18:21:00+02:00",
        "margin_h": -5.6,
        "hold_best_h": 30.6,
        "hold_cautious_h": 21.0,
        "hold_is_at_least": False,
        "cost_minor": 99725,
        "cost_per_kg_minor": 1247,
        "cost_missing": [],
        "sound_kg": 79.9,
        "old_prices": 0,
        "reason": ReasonOut.example,
        "rests_on": RestsOnOut.example,
    }


def item_of(departure, question, before):
    """DepartureOut of a selectors' Departure; what was confirmed before the day `before` is old."""
    slot, design = departure.slot, departure.design
    return {
        "id": departure.key,
        "route": {"slug": question.route.slug, "name": question.route.name},
        "carrier": vehicle_of(slot.carrier),
        "carton_design": {"slug": design.slug, "name": design.name, "returnable": design.returnable},
        "cartons": departure.cartons,
        "mass_kg": question.mass_kg,
        "departs_at": written(slot.departs_at, question.zone),
        "leaves_when_full": slot.timetable.leaves_when_full,
        "closes_at": written(departure.closes_at, question.zone),
        "close_no_earlier_than": written(departure.close_no_earlier_than, question.zone),
        "latest_safe_departure_at": written(departure.latest_safe_departure, question.zone),
        "safe": departure.is_safe,
        **chances_of(departure, question.zone),
        **price_of(departure.bill, before),
        "reason": reason_of(departure, question),
        "rests_on": {
            "trips": departure.trips,
            "insulation_measured": design.measured_on is not None,
            "weather": departure.weather,
        },
    }


def vehicle_of(carrier):
    return {"id": carrier.pk, "name": carrier.name, "vehicle": carrier.vehicle, "ride": carrier.ride}


def chances_of(departure, zone):
    """How likely, when, and with how much to spare."""
    judged = departure.judgement
    first, median, last = (departure.after_closing(seconds) for seconds in judged.window)
    return {
        "chance_hard": down(judged.chance_hard, 3),
        "expected_softened_share": up(judged.expected_softened_share, 4),
        "arrives_from": written(minute_down(first), zone),
        "arrives_median": written(minute_up(median), zone),
        "arrives_until": written(minute_up(last), zone),
        "margin_h": hours_down(judged.margin),
        "hold_best_h": hours_down(judged.hold_best),
        "hold_cautious_h": hours_down(judged.hold_cautious),
        "hold_is_at_least": bool(judged.hold_is_at_least),
    }


def price_of(bill, before):
    """What it costs, or what is missing to say so."""
    cost = bill.cost
    return {
        "cost_minor": cost and cost.total,
        "cost_per_kg_minor": cost and cost.per_kilogram,
        "cost_missing": words_here(bill.missing),
        "sound_kg": cost and down(cost.sound_mass, 2),
        "old_prices": old_lines(cost, before) if cost else 0,
    }
