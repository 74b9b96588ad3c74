from django.utils import timezone
from rest_framework import serializers
from rest_framework.response import Response
from rest_framework.views import APIView

from api.cooperative import cooperative_of, old_before_today
from api.departures_item import DepartureOut, InstantOut, item_of
from api.departures_order import kept, ordered, upcoming
from api.departures_question import DeparturesQuestion, echo_of, question_of, require_departure_after
from api.pagination import paged
from api.question import read
from api.roles import VISITORS
from api.rounding import written
from coop.selectors.departures import departures_for

FILTERS = ("carrier", "safe", "min_chance", "max_cost_per_kg", "ordering")


class EchoOut(serializers.Serializer):
    """The question with its defaults filled in."""

    route = serializers.CharField()
    to = serializers.DateField()
    carton_design = serializers.ListField(child=serializers.CharField())
    species = serializers.CharField()
    mass_kg = serializers.FloatField()
    start_temperature_c = serializers.FloatField()
    buyer = serializers.CharField()
    closes_at = serializers.CharField(help_text="an instant, or late")
    deliver_by = InstantOut(allow_null=True)
    limit = serializers.CharField()
    confidence = serializers.FloatField()
    with_fish = serializers.BooleanField()

    example = {
        "route": "mpulungu-kasama",
        "from": "2026-03-02",
        "to": "2026-03-08",
        "carton_design": ["common-carton"],
        "species": "IRQ",
        "mass_kg": 80.0,
        "start_temperature_c": -18.0,
        "buyer": "city-market",
        "closes_at": "late",
        "deliver_by": None,
        "limit": "softened_share:0.05",
        "confidence": 0.95,
        "with_fish": False,
    }

    def get_fields(self):
        return {**super().get_fields(), "from": serializers.DateField()}


class ListEchoOut(EchoOut):
    carrier = serializers.IntegerField(allow_null=True)
    safe = serializers.BooleanField(allow_null=True)
    min_chance = serializers.FloatField(allow_null=True)
    max_cost_per_kg = serializers.IntegerField(allow_null=True)
    ordering = serializers.CharField()

    example = {
        **EchoOut.example,
        "carrier": None,
        "safe": None,
        "min_chance": None,
        "max_cost_per_kg": None,
        "ordering": "departs_at",
    }


class DeparturesOut(serializers.Serializer):
    count = serializers.IntegerField()
    next = serializers.URLField(allow_null=True)
    previous = serializers.URLField(allow_null=True)
    question = ListEchoOut()
    currency = serializers.CharField()
    currency_decimals = serializers.IntegerField()
    worked_out_at = InstantOut()
    results = DepartureOut(many=True)

    example = {
        "count": 1,
        "next": None,
        "previous": None,
        "question": ListEchoOut.example,
        "currency": "ZMW",
        "currency_decimals": 2,
        "worked_out_at": "2026-03-01T09:30:00+02:00",
        "results": [DepartureOut.example],
    }


class Departures(APIView):
    """Departures of a route with each carton: until what hour they are safe, how likely, at what cost."""

    may = {"GET": VISITORS}
    question = DeparturesQuestion
    output = DeparturesOut

    def get(self, request):
        asked, now = read(DeparturesQuestion, request), timezone.now()
        question, carrier = question_of(asked, cooperative_of(request), now)
        found = departures_for(question)
        require_departure_after(question.closes_at, found, question.zone)
        if "from" not in asked:
            found = upcoming(found, now, question.closes_at)
        wanted = ordered(kept(found, asked, carrier), asked["ordering"])
        answer = paged(wanted, request, page=asked["page"], page_size=asked["page_size"])
        before = old_before_today(question.cooperative)
        echo = echo_of(question) | {name: asked.get(name) for name in FILTERS}
        return Response(
            {
                **answer,
                "question": echo,
                **coin_of(question.cooperative),
                "worked_out_at": written(now, question.zone),
                "results": [item_of(one, question, before) for one in answer["results"]],
            }
        )


def coin_of(cooperative):
    return {"currency": cooperative.currency, "currency_decimals": cooperative.currency_decimals}
