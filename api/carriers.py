from django_filters import FilterSet
from rest_framework import serializers

from api.figures import INVENTED, Figured
from api.filtering import OneOf, Text
from api.roles import VISITORS
from api.stored import Row, Rows
from coop.selectors.carriers import carriers_of


class CarrierName(serializers.Serializer):
    id = serializers.IntegerField()
    name = serializers.CharField()

    example = {"id": 1, "name": "Night minibus"}


class CarrierOut(Figured, CarrierName):
    vehicle = serializers.CharField()
    ride = serializers.CharField()
    waits_in = serializers.CharField()
    cabin_offset_c = serializers.FloatField()
    carton_places = serializers.IntegerField()
    breakdown_chance = serializers.FloatField()
    breakdown_hours_mean = serializers.FloatField()
    breakdown_hours_cv = serializers.FloatField()

    example = {
        **CarrierName.example,
        "vehicle": "minibus",
        "ride": "roof",
        "waits_in": "sun",
        "cabin_offset_c": 0.0,
        "carton_places": 12,
        "breakdown_chance": 0.05,
        "breakdown_hours_mean": 4.0,
        "breakdown_hours_cv": 0.8,
        **INVENTED,
    }


class CarrierFilters(FilterSet):
    name = Text()
    vehicle = OneOf("minibus", "shared_taxi", "lorry", "pickup")
    ride = OneOf("roof", "cabin", "hold")


class Carriers(Rows):
    """Who carries cartons, in what, and where these ride and wait."""

    may = {"GET": VISITORS}
    select = staticmethod(carriers_of)
    filters = CarrierFilters
    output = CarrierOut


class Carrier(Row):
    """One carrier."""

    may = {"GET": VISITORS}
    select = staticmethod(carriers_of)
    output = CarrierOut
