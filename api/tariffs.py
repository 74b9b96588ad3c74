from django_filters import FilterSet
from rest_framework import serializers

from api.carriers import CarrierName
from api.figures import INVENTED, Dated, Figured
from api.filtering import CountsOn, Slug, Whole
from api.roles import VISITORS
from api.routes import RouteName
from api.stored import Row, Rows
from coop.selectors.tariffs import tariffs_of


class StepOut(serializers.Serializer):
    from_kg = serializers.FloatField()
    amount_minor = serializers.IntegerField()

    example = {"from_kg": 50.0, "amount_minor": 20000}


class RuleOut(serializers.Serializer):
    position = serializers.IntegerField()
    kind = serializers.CharField()
    amount_minor = serializers.IntegerField()
    minimum_minor = serializers.IntegerField()
    minimum_kg = serializers.FloatField()
    seats_per_carton = serializers.IntegerField(allow_null=True)
    volumetric_divisor_cm3_per_kg = serializers.FloatField(allow_null=True)
    surcharge_share = serializers.FloatField(allow_null=True)
    months = serializers.ListField(child=serializers.IntegerField(min_value=1, max_value=12))
    steps = StepOut(many=True, source="steps.all")

    example = {
        "position": 1,
        "kind": "by_step",
        "amount_minor": 0,
        "minimum_minor": 0,
        "minimum_kg": 0.0,
        "seats_per_carton": None,
        "volumetric_divisor_cm3_per_kg": None,
        "surcharge_share": None,
        "months": [],
        "steps": [StepOut.example],
    }


class TariffOut(Figured, Dated):
    id = serializers.IntegerField()
    carrier = CarrierName()
    route = RouteName()
    confirmed_on = serializers.DateField()
    rules = RuleOut(many=True, source="rules.all")

    example = {
        "id": 2,
        "carrier": CarrierName.example,
        "route": RouteName.example,
        "confirmed_on": "2026-02-20",
        "rules": [RuleOut.example],
        "valid_from": "2026-01-01",
        "valid_until": None,
        **INVENTED,
    }


class TariffFilters(FilterSet):
    route = Slug(field_name="route__slug")
    carrier = Whole(field_name="carrier_id")
    on = CountsOn()


class Tariffs(Rows):
    """What carriers take: the rules of a tariff add up."""

    may = {"GET": VISITORS}
    select = staticmethod(tariffs_of)
    filters = TariffFilters
    output = TariffOut


class Tariff(Row):
    """One tariff with its rules and steps."""

    may = {"GET": VISITORS}
    select = staticmethod(tariffs_of)
    output = TariffOut
