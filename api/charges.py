from django_filters import FilterSet
from rest_framework import serializers

from api.buyers import BuyerName
from api.figures import INVENTED, Dated, Figured
from api.filtering import CountsOn, OneOf, Slug
from api.roles import VISITORS
from api.routes import RouteName
from api.stored import Row, Rows
from coop.selectors.charges import charges_of


class ChargeOut(Figured, Dated):
    id = serializers.IntegerField()
    route = RouteName(allow_null=True)
    buyer = BuyerName(allow_null=True)
    kind = serializers.CharField()
    name = serializers.CharField()
    basis = serializers.CharField()
    amount_minor = serializers.IntegerField()
    confirmed_on = serializers.DateField()

    example = {
        "id": 6,
        "route": RouteName.example,
        "buyer": None,
        "kind": "levy",
        "name": "Levy at the district border",
        "basis": "carton",
        "amount_minor": 1000,
        "confirmed_on": "2026-02-20",
        "valid_from": "2026-01-01",
        "valid_until": None,
        **INVENTED,
    }


class ChargeFilters(FilterSet):
    route = Slug(field_name="route__slug")
    buyer = Slug(field_name="buyer__slug")
    kind = OneOf("handling", "levy", "papers", "receiver", "freezing_energy")
    basis = OneOf("consignment", "carton", "kilogram")
    on = CountsOn()


class Charges(Rows):
    """What is paid besides fare and materials: everywhere, on one route, or for one buyer."""

    may = {"GET": VISITORS}
    select = staticmethod(charges_of)
    filters = ChargeFilters
    output = ChargeOut


class Charge(Row):
    """One charge."""

    may = {"GET": VISITORS}
    select = staticmethod(charges_of)
    output = ChargeOut
