from django.conf import settings
from rest_framework import serializers
from rest_framework.response import Response
from rest_framework.views import APIView

from api.cooperative import cooperative_of, today_of
from api.hold_question import HoldQuestion, carton_for, fish_in, surroundings_of
from api.question import read
from api.roles import VISITORS
from api.warming_curves import CurveOut, LimitHoldOut, curve_of
from coop.selectors.engine_inputs import flesh_of
from coop.selectors.hold import hold_curves, packed_of
from coop.selectors.terms import terms_on


class HoldOut(serializers.Serializer):
    question = serializers.DictField(help_text="as it was answered, with every default that counts")
    hold = LimitHoldOut(many=True, help_text="the limit asked for first, then those that buyers set")
    curve = CurveOut()

    example = {
        "question": {
            "species": "IRQ",
            "mass_kg": 80.0,
            "start_temperature_c": -18.0,
            "carton_design": "common-carton",
            "outside_max_c": 31.0,
            "outside_min_c": 19.0,
            "ride": "shade",
            "closes_at_hour": 16.0,
            "limit": "softened_share:0.05",
            "confidence": 0.95,
            "conductivity_cv": 0.25,
        },
        "hold": [LimitHoldOut.example],
        "curve": CurveOut.example,
    }


class Hold(APIView):
    """How long any carton holds that stays where it is, for the limits that buyers set."""

    may = {"GET": VISITORS}
    question = HoldQuestion
    output = HoldOut

    def get(self, request):
        cooperative = cooperative_of(request)
        terms = terms_on(cooperative, today_of(cooperative))
        asked = {"confidence": terms.confidence, **read(HoldQuestion, request)}
        species, (around, stands) = fish_in(asked), surroundings_of(asked)
        carton, walls = carton_for(asked, cooperative, species)
        kind, value = asked.get("limit", ("softened_share", terms.softened_share_limit))
        packed = packed_of(
            carton,
            asked["mass_kg"],
            flesh_of(species),
            start_temperature_c=asked["start_temperature_c"],
            conductivity_cv=walls["conductivity_cv"],
            limit=(kind, value),
        )
        curve = curve_of(hold_curves(packed, around, confidence=asked["confidence"], threads=settings.CORES))
        said = {**asked, **stands, **walls, "limit": f"{kind}:{value:g}"}
        return Response({"question": said, "hold": curve["limits"], "curve": curve})
