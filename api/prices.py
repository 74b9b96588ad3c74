from rest_framework import serializers

from api.changes import Confirmation, ConfirmedChangeIn, Ending, Withdrawal, changed
from api.figures import INVENTED, Dated, Figured
from api.filtering import DatedFilters, Slug
from api.question_fields import chosen
from api.roles import MANAGERS, VISITORS
from api.species import SpeciesName
from api.stored import Row, Rows
from coop.selectors.prices import fish_prices_of
from coop.selectors.species import all_species
from coop.services.fish_prices import change_fish_price

MOST_MINOR = 10**12


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


class FishPriceIn(ConfirmedChangeIn):
    species = serializers.CharField(max_length=3, help_text="three letters of FAO ASFIS such as IRQ")
    bought_minor_per_kg = serializers.IntegerField(min_value=0, max_value=MOST_MINOR)
    sold_minor_per_kg = serializers.IntegerField(min_value=0, max_value=MOST_MINOR)
    soft_minor_per_kg = serializers.IntegerField(min_value=0, max_value=MOST_MINOR)

    example = {
        **ConfirmedChangeIn.example,
        "species": "IRQ",
        "bought_minor_per_kg": 3500,
        "sold_minor_per_kg": 6500,
        "soft_minor_per_kg": 4000,
    }


class FishPriceFilters(DatedFilters):
    species = Slug(field_name="species__code")


class FishPrices(Rows):
    """What a kilogram of fish costs at the lake and fetches in the city, hard or soft."""

    may = {"GET": VISITORS, "POST": MANAGERS}
    select = staticmethod(fish_prices_of)
    filters = FishPriceFilters
    body = {"POST": FishPriceIn}
    output = FishPriceOut
    status = {"POST": 201}

    def post(self, request):
        return changed(self, request, FishPriceIn, change_fish_price, species_named)


def species_named(asked, _cooperative):
    return {**asked, "species": chosen(all_species(), "species", asked["species"], key="code")}


class FishPrice(Row):
    """One price of one species."""

    may = {"GET": VISITORS}
    select = staticmethod(fish_prices_of)
    output = FishPriceOut


class FishPriceConfirmation(Confirmation):
    """Somebody asked: this price is still right."""

    select = staticmethod(fish_prices_of)
    output = FishPriceOut


class FishPriceEnding(Ending):
    """From a day on this price no longer counts."""

    select = staticmethod(fish_prices_of)
    output = FishPriceOut


class FishPriceWithdrawal(Withdrawal):
    """A change that has not begun is taken back."""

    select = staticmethod(fish_prices_of)
