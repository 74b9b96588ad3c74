from django_filters import FilterSet
from rest_framework import serializers

from api.figures import INVENTED, Dated, Figured
from api.filtering import CountsOn, Slug
from api.roles import VISITORS
from api.species import SpeciesName
from api.stored import Row, Rows
from coop.selectors.prices import fish_prices_of


class FishPriceOut(Figured, Dated):
    id = serializers.IntegerField()
    species = SpeciesName()
    bought_minor_per_kg = serializers.IntegerField()
    sold_minor_per_kg = serializers.IntegerField()
    soft_minor_per_kg = serializers.IntegerField()
    confirmed_on = serializers.DateField()

    example = {
        "id": 4,
        "species": SpeciesName.example,
        "bought_minor_per_kg": 3500,
        "sold_minor_per_kg": 6500,
        "soft_minor_per_kg": 4000,
        "confirmed_on": "2026-02-20",
        "valid_from": "2026-01-01",
        "valid_until": None,
        **INVENTED,
    }


class FishPriceFilters(FilterSet):
    species = Slug(field_name="species__code")
    on = CountsOn()


class FishPrices(Rows):
    """What a kilogram of fish costs at the lake and fetches in the city, hard or soft."""

    may = {"GET": VISITORS}
    select = staticmethod(fish_prices_of)
    filters = FishPriceFilters
    output = FishPriceOut


class FishPrice(Row):
    """One price of one species."""

    may = {"GET": VISITORS}
    select = staticmethod(fish_prices_of)
    output = FishPriceOut
