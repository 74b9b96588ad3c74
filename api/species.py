from django_filters import FilterSet
from rest_framework import serializers

from api.figures import ESTIMATED, Figured
from api.filtering import Slug, Text, Truth
from api.roles import VISITORS
from api.stored import Row, Rows, shared
from coop.selectors.species import all_species


class SpeciesName(serializers.Serializer):
    code = serializers.CharField()
    name_en = serializers.CharField()
    name_fr = serializers.CharField()
    name_mg = serializers.CharField()
    name_sw = serializers.CharField()

    example = {
        "code": "IRQ",
        "name_en": "Sleek lates",
        "name_fr": "",
        "name_mg": "",
        "name_sw": "",
    }


class SpeciesOut(Figured, SpeciesName):
    scientific_name = serializers.CharField()
    family = serializers.CharField()
    water_share = serializers.FloatField()
    protein_share = serializers.FloatField()
    fat_share = serializers.FloatField()
    ash_share = serializers.FloatField()
    freezing_point_c = serializers.FloatField()
    histamine_prone = serializers.BooleanField()

    example = {
        **SpeciesName.example,
        "scientific_name": "Lates stappersii",
        "family": "Latidae",
        "water_share": 0.78,
        "protein_share": 0.19,
        "fat_share": 0.02,
        "ash_share": 0.01,
        "freezing_point_c": -1.0,
        "histamine_prone": False,
        **ESTIMATED,
    }


class SpeciesFilters(FilterSet):
    code = Slug()
    name = Text(field_name="name_en")
    family = Text()
    histamine_prone = Truth()


class SpeciesList(Rows):
    """Kinds of fish: what they are made of decides how they warm."""

    may = {"GET": VISITORS}
    select = shared(all_species)
    filters = SpeciesFilters
    output = SpeciesOut


class SpeciesOne(Row):
    """One kind of fish."""

    may = {"GET": VISITORS}
    select = shared(all_species)
    output = SpeciesOut
