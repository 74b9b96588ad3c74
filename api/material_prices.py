from rest_framework import serializers

from api.changes import Confirmation, ConfirmedChangeIn, Ending, Withdrawal, changed
from api.filtering import DatedFilters, Slug
from api.materials import MaterialName, MaterialPriceOut
from api.question_fields import chosen
from api.roles import MANAGERS, VISITORS
from api.stored import Row, Rows
from coop.selectors.materials import material_prices_of, materials_of
from coop.services.material_prices import change_material_price


class PricedMaterialOut(MaterialPriceOut):
    id = serializers.IntegerField()
    material = MaterialName()

    example = {"id": 5, "material": MaterialName.example, **MaterialPriceOut.example}


class MaterialPriceIn(ConfirmedChangeIn):
    material = serializers.SlugField(max_length=64, help_text="short name of a material")
    amount_minor = serializers.IntegerField(
        min_value=0, max_value=10**12, help_text="of one piece, kilogram, metre or sack"
    )

    example = {**ConfirmedChangeIn.example, "material": "shavings", "amount_minor": 1600}


class MaterialPriceFilters(DatedFilters):
    material = Slug(field_name="material__slug")


class MaterialPrices(Rows):
    """What the materials of cartons cost, over time."""

    may = {"GET": VISITORS, "POST": MANAGERS}
    select = staticmethod(material_prices_of)
    filters = MaterialPriceFilters
    body = {"POST": MaterialPriceIn}
    output = PricedMaterialOut
    status = {"POST": 201}

    def post(self, request):
        return changed(self, request, MaterialPriceIn, change_material_price, material_named)


def material_named(asked, cooperative):
    return {**asked, "material": chosen(materials_of(cooperative), "material", asked["material"])}


class MaterialPrice(Row):
    """One price of one material."""

    may = {"GET": VISITORS}
    select = staticmethod(material_prices_of)
    output = PricedMaterialOut


class MaterialPriceConfirmation(Confirmation):
    """Somebody asked: this price is still right."""

    select = staticmethod(material_prices_of)
    output = PricedMaterialOut


class MaterialPriceEnding(Ending):
    """From a day on this price no longer counts."""

    select = staticmethod(material_prices_of)
    output = PricedMaterialOut


class MaterialPriceWithdrawal(Withdrawal):
    """A change that has not begun is taken back."""

    select = staticmethod(material_prices_of)
