from django_filters import FilterSet
from rest_framework import serializers

from api.figures import INVENTED, Dated, Figured
from api.filtering import OneOf, Slug, Text
from api.roles import VISITORS
from api.stored import Row, Rows
from coop.selectors.materials import materials_of


class MaterialName(serializers.Serializer):
    slug = serializers.CharField()
    name = serializers.CharField()
    unit = serializers.CharField()

    example = {"slug": "shavings", "name": "Wood shavings", "unit": "sack"}


class MaterialPriceOut(Figured, Dated):
    amount_minor = serializers.IntegerField()
    confirmed_on = serializers.DateField()

    example = {
        "amount_minor": 1500,
        "confirmed_on": "2026-02-20",
        "valid_from": "2026-01-01",
        "valid_until": None,
        **INVENTED,
    }


class MaterialOut(MaterialName):
    sack_volume_m3 = serializers.FloatField(allow_null=True)
    prices = MaterialPriceOut(many=True, source="prices.all")

    example = {**MaterialName.example, "sack_volume_m3": 0.12, "prices": [MaterialPriceOut.example]}


class MaterialFilters(FilterSet):
    slug = Slug()
    name = Text()
    unit = OneOf("piece", "kg", "m", "m2", "m3", "sack")


class Materials(Rows):
    """What is bought to pack a carton, with its prices over time."""

    may = {"GET": VISITORS}
    select = staticmethod(materials_of)
    filters = MaterialFilters
    output = MaterialOut


class Material(Row):
    """One material with its prices over time."""

    may = {"GET": VISITORS}
    select = staticmethod(materials_of)
    output = MaterialOut
