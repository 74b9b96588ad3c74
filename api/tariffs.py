from rest_framework import serializers

from api.carriers import CarrierName
from api.changes import Confirmation, ConfirmedChangeIn, Ending, Withdrawal, changed
from api.figures import INVENTED, Dated, Figured
from api.filtering import DatedFilters, Slug, Whole
from api.question import Number
from api.question_fields import LARGEST, chosen
from api.roles import MANAGERS, VISITORS
from api.routes import RouteName
from api.stored import Row, Rows
from coop.selectors.carriers import carriers_of
from coop.selectors.routes import routes_of
from coop.selectors.tariffs import tariffs_of
from coop.services.tariffs import change_tariff

KINDS = (
    "per_carton",
    "per_kilogram",
    "by_step",
    "per_volume",
    "per_volumetric_kilogram",
    "per_seat",
    "return_of_empty",
    "surcharge",
)
MOST_MINOR, MOST_KG, MOST_RULES, MOST_STEPS = 10**12, 100_000, 99, 99


class TariffStepOut(serializers.Serializer):
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
    steps_per_kilogram = serializers.BooleanField()
    months = serializers.ListField(child=serializers.IntegerField(min_value=1, max_value=12))
    steps = TariffStepOut(many=True, source="steps.all")

    example = {
        "position": 1,
        "kind": "by_step",
        "amount_minor": 0,
        "minimum_minor": 0,
        "minimum_kg": 0.0,
        "seats_per_carton": None,
        "volumetric_divisor_cm3_per_kg": None,
        "surcharge_share": None,
        "steps_per_kilogram": False,
        "months": [],
        "steps": [TariffStepOut.example],
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


class StepIn(serializers.Serializer):
    from_kg = Number(min_value=0, max_value=MOST_KG)
    amount_minor = serializers.IntegerField(min_value=0, max_value=MOST_MINOR)

    example = TariffStepOut.example


class RuleIn(serializers.Serializer):
    """What is not said of a rule is 0, empty or none."""

    kind = serializers.ChoiceField(choices=KINDS)
    amount_minor = serializers.IntegerField(min_value=0, max_value=MOST_MINOR, default=0)
    minimum_minor = serializers.IntegerField(min_value=0, max_value=MOST_MINOR, default=0)
    minimum_kg = Number(min_value=0, max_value=MOST_KG, default=0.0)
    seats_per_carton = serializers.IntegerField(min_value=1, max_value=20, allow_null=True, default=None)
    steps_per_kilogram = serializers.BooleanField(default=False)
    volumetric_divisor_cm3_per_kg = Number(min_value=1000, max_value=20_000, allow_null=True, default=None)
    surcharge_share = Number(min_value=-0.9, max_value=5, allow_null=True, default=None)
    months = serializers.ListField(
        child=serializers.IntegerField(min_value=1, max_value=12), max_length=12, default=list
    )
    steps = StepIn(many=True, default=list, max_length=MOST_STEPS)

    example = {"kind": "per_carton", "amount_minor": 30000}


class FareIn(serializers.Serializer):
    carrier = serializers.IntegerField(min_value=1, max_value=LARGEST, help_text="id of a carrier")
    route = serializers.SlugField(max_length=64, help_text="short name of a route")
    rules = RuleIn(many=True, max_length=MOST_RULES)

    example = {"carrier": 1, "route": "mpulungu-kasama", "rules": [RuleIn.example]}


class TariffIn(FareIn, ConfirmedChangeIn):
    example = {**ConfirmedChangeIn.example, **FareIn.example}


class TariffFilters(DatedFilters):
    route = Slug(field_name="route__slug")
    carrier = Whole(field_name="carrier_id")


class Tariffs(Rows):
    """What carriers take: the rules of a tariff add up."""

    may = {"GET": VISITORS, "POST": MANAGERS}
    select = staticmethod(tariffs_of)
    filters = TariffFilters
    body = {"POST": TariffIn}
    output = TariffOut
    status = {"POST": 201}

    def post(self, request):
        return changed(self, request, TariffIn, change_tariff, fare_named)


def fare_named(asked, cooperative):
    """A fare with rows in place of the words that name them."""
    return {
        **asked,
        "carrier": chosen(carriers_of(cooperative), "carrier", asked["carrier"], key="pk"),
        "route": chosen(routes_of(cooperative), "route", asked["route"]),
    }


class Tariff(Row):
    """One tariff with its rules and steps."""

    may = {"GET": VISITORS}
    select = staticmethod(tariffs_of)
    output = TariffOut


class TariffConfirmation(Confirmation):
    """Somebody asked: this fare is still right."""

    select = staticmethod(tariffs_of)
    output = TariffOut


class TariffEnding(Ending):
    """From a day on this fare no longer counts."""

    select = staticmethod(tariffs_of)
    output = TariffOut


class TariffWithdrawal(Withdrawal):
    """A change that has not begun is taken back."""

    select = staticmethod(tariffs_of)
