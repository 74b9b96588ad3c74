from rest_framework import serializers
from rest_framework.response import Response
from rest_framework.views import APIView

from api.cooperative import cooperative_of
from api.departures import coin_of
from api.departures_item import InstantOut
from api.freezers import FreezerName
from api.freezing_question import FreezingQuestion, echo_of, question_of
from api.freezing_reasons import reason_of
from api.question import read
from api.roles import VISITORS
from api.rounding import up, written
from coop.selectors.freezing import freezing_of


class FreezingEchoOut(serializers.Serializer):
    """The question with its defaults filled in; a side that counts as without end is null."""

    freezer = serializers.CharField()
    species = serializers.CharField()
    mass_kg = serializers.FloatField()
    besides_kg = serializers.FloatField()
    shape = serializers.CharField()
    thickness_cm = serializers.FloatField()
    width_cm = serializers.FloatField(allow_null=True)
    length_cm = serializers.FloatField(allow_null=True)
    warm_temperature_c = serializers.FloatField()
    core_c = serializers.FloatField()
    put_in_at = InstantOut()
    closes_at = InstantOut(allow_null=True)

    example = {
        "freezer": "big-chest",
        "species": "IRQ",
        "mass_kg": 35.0,
        "besides_kg": 0.0,
        "shape": "ellipsoid",
        "thickness_cm": 5.0,
        "width_cm": 9.0,
        "length_cm": 35.0,
        "warm_temperature_c": 24.0,
        "core_c": -18.0,
        "put_in_at": "2026-03-01T08:00:00+02:00",
        "closes_at": "2026-03-02T15:20:00+02:00",
    }


class FreezingReasonOut(serializers.Serializer):
    code = serializers.CharField()
    values = serializers.DictField(help_text="the figures behind the words, with their units")
    words = serializers.CharField()

    example = {
        "code": "not_frozen_by_closing",
        "values": {"core_at_closing_c": None, "core_c": -18.0, "ready_at": "2026-03-02T16:05:00+02:00"},
        "words": "When the carton is closed the fish is not surely frozen through; it is at -18 °C by 16:05.",
    }


class FreezingOut(serializers.Serializer):
    question = FreezingEchoOut()
    currency = serializers.CharField()
    currency_decimals = serializers.IntegerField()
    freezer = FreezerName()
    ready_at = InstantOut(allow_null=True, help_text="surely as cold as wanted in the middle; null: never")
    ready_at_best = InstantOut(allow_null=True, help_text="by the best estimate")
    core_at_closing_c = serializers.FloatField(
        allow_null=True, help_text="at most; rounded up. null: not surely below −10 °C, or no closing asked"
    )
    energy_kwh = serializers.FloatField(allow_null=True, help_text="of this fish, until it is ready")
    cost_minor = serializers.IntegerField(allow_null=True)
    reason = FreezingReasonOut(allow_null=True, help_text="null: it is ready in time")

    example = {
        "question": FreezingEchoOut.example,
        "currency": "ZMW",
        "currency_decimals": 2,
        "freezer": FreezerName.example,
        "ready_at": "2026-03-02T16:05:00+02:00",
        "ready_at_best": "2026-03-02T13:10:00+02:00",
        "core_at_closing_c": None,
        "energy_kwh": 3.6,
        "cost_minor": 931,
        "reason": FreezingReasonOut.example,
    }


class Freezing(APIView):
    """When fish that is put into a freezer is frozen through, and how cold it is when a carton is closed."""

    may = {"GET": VISITORS}
    question = FreezingQuestion
    output = FreezingOut

    def get(self, request):
        asked = read(FreezingQuestion, request)
        question = question_of(asked, cooperative_of(request))
        found = freezing_of(question)
        zone, row = question.zone, question.freezer
        return Response(
            {
                "question": echo_of(asked, zone),
                **coin_of(question.cooperative),
                "freezer": {"slug": row.slug, "name": row.name},
                "ready_at": written(found.ready_at, zone),
                "ready_at_best": written(found.ready_at_best, zone),
                "core_at_closing_c": up(found.core_at_closing_c, 1),
                "energy_kwh": up(found.energy_kwh, 2),
                "cost_minor": found.cost_minor,
                "reason": reason_of(found, question),
            }
        )
