"""What one departure in full looks like from outside."""

from rest_framework import serializers

from api.cost_lines import CostOut
from api.departures import EchoOut
from api.departures_item import DepartureOut, InstantOut
from api.packing import PackingOut
from api.warming_curves import CurveOut


class HandoverOut(serializers.Serializer):
    p10 = serializers.FloatField(allow_null=True, help_text="hours since closing; null: not for days")
    p50 = serializers.FloatField(allow_null=True)
    p90 = serializers.FloatField(allow_null=True)

    example = {"p10": 21.33, "p50": 23.62, "p90": 27.02}


class JourneyCurveOut(CurveOut):
    closes_at = InstantOut(help_text="from which the hours count")
    handover_h = HandoverOut()
    departs_h = serializers.FloatField()
    latest_departure_h = serializers.FloatField(allow_null=True, help_text="null: no hour is safe")

    example = {
        **CurveOut.example,
        "closes_at": "2026-03-02T15:20:00+02:00",
        "handover_h": HandoverOut.example,
        "departs_h": 0.67,
        "latest_departure_h": None,
    }


class ChanceOut(serializers.Serializer):
    departs_at = InstantOut(help_text="when the vehicle really leaves")
    chance_hard = serializers.FloatField(help_text="rounded down")

    example = {"departs_at": "2026-03-02T16:00:00+02:00", "chance_hard": 0.779}


class StopOut(serializers.Serializer):
    place = serializers.CharField()
    km = serializers.FloatField()
    altitude_m = serializers.FloatField()
    arrives_at = InstantOut(allow_null=True)
    leaves_at = InstantOut(allow_null=True)
    hours = serializers.FloatField(help_text="since closing, on a trip of median length")
    air_c = serializers.FloatField(allow_null=True)
    carries = serializers.CharField(help_text="what the carton stands in from here on")

    example = {
        "place": "Mpulungu",
        "km": 0.0,
        "altitude_m": 780.0,
        "arrives_at": None,
        "leaves_at": "2026-03-02T16:00:00+02:00",
        "hours": 0.67,
        "air_c": 29.4,
        "carries": "roof",
    }


class DepartureInFullOut(DepartureOut):
    question = EchoOut()
    currency = serializers.CharField()
    currency_decimals = serializers.IntegerField()
    curve = JourneyCurveOut()
    chances = ChanceOut(many=True, help_text="by the hour of leaving; they never rise")
    strip = StopOut(many=True)
    cost = CostOut(allow_null=True, help_text="null: a price is missing, see cost_missing")
    packing = PackingOut()
    cautions = serializers.ListField(child=serializers.CharField())

    example = {
        **DepartureOut.example,
        "question": EchoOut.example,
        "currency": "ZMW",
        "currency_decimals": 2,
        "curve": JourneyCurveOut.example,
        "chances": [ChanceOut.example],
        "strip": [StopOut.example],
        "cost": CostOut.example,
        "packing": PackingOut.example,
        "cautions": ["estimate", "local_rule", "no_refreeze", "clean_bags"],
    }
