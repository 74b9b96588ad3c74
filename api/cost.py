from rest_framework import serializers
from rest_framework.response import Response
from rest_framework.views import APIView

from api.cartons import CartonDesignName
from api.cooperative import cooperative_of, old_before_today
from api.cost_lines import CostOut, cost_of
from api.cost_question import ConsignmentEchoOut, ConsignmentQuestion, consignment_of, echo_of
from api.departures import coin_of
from api.question import read
from api.refusal_words import words_here
from api.roles import VISITORS
from api.rounding import up
from coop.selectors.cost_in_full import cost_in_full


class CartonCountOut(serializers.Serializer):
    cartons = serializers.IntegerField()
    total_minor = serializers.IntegerField()
    per_kg_minor = serializers.IntegerField(allow_null=True)

    example = {"cartons": 1, "total_minor": 30000, "per_kg_minor": 376}


class BoxOut(serializers.Serializer):
    """A box that comes back against the cheapest carton that does not: materials and return, for one trip."""

    against = CartonDesignName()
    box_minor = serializers.IntegerField()
    one_way_minor = serializers.IntegerField()
    saving_minor = serializers.IntegerField(help_text="negative: the box costs more")
    least_trips = serializers.IntegerField(allow_null=True, help_text="from which the box is no dearer")

    example = {
        "against": CartonDesignName.example,
        "box_minor": 24400,
        "one_way_minor": 19700,
        "saving_minor": -4700,
        "least_trips": None,
    }


class WallOut(serializers.Serializer):
    thickness_m = serializers.FloatField()
    mass_kg = serializers.FloatField(help_text="a full carton")
    softened_share = serializers.FloatField(help_text="expected at hand-over; rounded up")
    total_minor = serializers.IntegerField()
    per_kg_minor = serializers.IntegerField(allow_null=True)

    example = {
        "thickness_m": 0.1,
        "mass_kg": 100.5,
        "softened_share": 0.0312,
        "total_minor": 107400,
        "per_kg_minor": 1072,
    }


class ThicknessOut(serializers.Serializer):
    """The carton rebuilt with other walls within the same outer size, full, on a journey of median length."""

    cheapest_m = serializers.FloatField()
    walls = WallOut(many=True)

    example = {"cheapest_m": 0.1, "walls": [WallOut.example]}


class ConsignmentOut(CostOut):
    question = ConsignmentEchoOut()
    currency_decimals = serializers.IntegerField()
    cost_missing = serializers.ListField(
        child=serializers.CharField(), help_text="prices without which no cost can be named"
    )
    cheapest_cartons = CartonCountOut(allow_null=True)
    returnable = BoxOut(allow_null=True, help_text="for a design that comes back")
    thickness = ThicknessOut(allow_null=True, help_text="if it was asked for, and can be worked out")

    example = {
        **CostOut.example,
        "question": ConsignmentEchoOut.example,
        "currency_decimals": 2,
        "cost_missing": [],
        "cheapest_cartons": CartonCountOut.example,
        "returnable": None,
        "thickness": None,
    }


class Cost(APIView):
    """What a consignment costs, line by line, and what at other weights and in other cartons."""

    may = {"GET": VISITORS}
    question = ConsignmentQuestion
    output = ConsignmentOut

    def get(self, request):
        asked = consignment_of(read(ConsignmentQuestion, request), cooperative_of(request))
        found, before = cost_in_full(asked), old_before_today(asked.cooperative)
        return Response(
            {
                "question": echo_of(asked),
                **coin_of(asked.cooperative),
                **cost_of(
                    found.bill,
                    found.ladder,
                    found.pays_from_kg,
                    asked.cooperative.currency,
                    before=before,
                ),
                "cost_missing": words_here(found.bill.missing),
                "cheapest_cartons": count_of(found.cheapest),
                "returnable": box_of(found.box),
                "thickness": thickness_of(found.walls, found.cheapest_wall),
            }
        )


def count_of(found):
    return found and {"cartons": found.cartons, **sums_of(found.cost)}


def sums_of(cost):
    return {"total_minor": cost.total, "per_kg_minor": cost.per_kilogram}


def box_of(found):
    if found is None:
        return None
    against = found.against
    return {
        "against": {"slug": against.slug, "name": against.name, "returnable": against.returnable},
        "box_minor": found.box_minor,
        "one_way_minor": found.one_way_minor,
        "saving_minor": found.saving_minor,
        "least_trips": found.least_trips,
    }


def thickness_of(walls, cheapest):
    if cheapest is None:
        return None
    shown = [
        {
            "thickness_m": wall.thickness,
            "mass_kg": wall.mass_kg,
            "softened_share": up(wall.softened_share, 4),
            **sums_of(wall.cost),
        }
        for wall in walls
    ]
    return {"cheapest_m": cheapest.thickness, "walls": shown}
