from django_filters import FilterSet
from rest_framework import serializers

from api.figures import ESTIMATED, Figured
from api.filtering import Text
from api.roles import VISITORS
from api.stored import Row, Rows
from coop.selectors.freezers import freezers_of


class FreezerName(serializers.Serializer):
    slug = serializers.CharField()
    name = serializers.CharField()

    example = {"slug": "big-chest", "name": "Big chest freezer"}


class FreezerOut(Figured, FreezerName):
    air_temperature_c = serializers.FloatField()
    film_w_m2_k = serializers.FloatField(help_text="of the air, or of the plates, at the fish")
    freezing_kg_per_day = serializers.FloatField()
    coefficient_of_performance = serializers.FloatField()
    standing_w = serializers.FloatField(help_text="electricity, when nothing is put in")
    holds_kg = serializers.FloatField()

    example = {
        **FreezerName.example,
        "air_temperature_c": -22.0,
        "film_w_m2_k": 8.0,
        "freezing_kg_per_day": 40.0,
        "coefficient_of_performance": 1.1,
        "standing_w": 90.0,
        "holds_kg": 250.0,
        **ESTIMATED,
    }


class FreezerFilters(FilterSet):
    name = Text()


class Freezers(Rows):
    """Where fish is frozen and waits."""

    may = {"GET": VISITORS}
    select = staticmethod(freezers_of)
    filters = FreezerFilters
    output = FreezerOut


class Freezer(Row):
    """One freezer."""

    may = {"GET": VISITORS}
    select = staticmethod(freezers_of)
    output = FreezerOut
