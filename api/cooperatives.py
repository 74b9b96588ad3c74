from django_filters import FilterSet
from rest_framework import serializers
from rest_framework.response import Response

from api.body import read_body
from api.cooperative import person_of, today_of
from api.figures import INVENTED, Figured
from api.filtering import Slug, Text
from api.roles import MANAGERS, VISITORS
from api.stored import Row, Rows, one_of
from coop.selectors.cooperatives import cooperatives_on
from coop.services.cooperatives import choose_rules

SHARING_RULES = ("by_weight", "equal", "serial", "shapley", "nucleolus", "capped")
CLAIMS_RULES = ("proportional", "equal_awards", "equal_losses", "contested")


def cooperatives_today(cooperative):
    return cooperatives_on(cooperative, today_of(cooperative))


class CooperativeOut(Figured):
    slug = serializers.CharField()
    name = serializers.CharField()
    currency = serializers.CharField()
    currency_decimals = serializers.IntegerField()
    coin_minor = serializers.IntegerField()
    language = serializers.CharField()
    time_zone = serializers.CharField()
    confidence = serializers.FloatField(
        allow_null=True, help_text="this and the seven below: terms that count today, null without any"
    )
    softened_share_limit = serializers.FloatField(allow_null=True)
    closing_lead_minutes = serializers.FloatField(allow_null=True)
    electricity_price_minor_per_kwh = serializers.IntegerField(allow_null=True)
    freezing_kwh_per_kg = serializers.FloatField(allow_null=True)
    labour_price_minor_per_hour = serializers.IntegerField(allow_null=True)
    packing_minutes_per_carton = serializers.FloatField(allow_null=True)
    stale_after_days = serializers.IntegerField(allow_null=True)
    sharing_rule = serializers.CharField(help_text="of bills that are not closed yet")
    claims_rule = serializers.CharField()
    is_demo = serializers.BooleanField()

    example = {
        "slug": "south-lake",
        "name": "South Lake Fish Traders",
        "currency": "ZMW",
        "currency_decimals": 2,
        "coin_minor": 5,
        "language": "en",
        "time_zone": "Africa/Lusaka",
        "confidence": 0.95,
        "softened_share_limit": 0.05,
        "closing_lead_minutes": 45.0,
        "electricity_price_minor_per_kwh": 250,
        "freezing_kwh_per_kg": 0.38,
        "labour_price_minor_per_hour": 2000,
        "packing_minutes_per_carton": 30.0,
        "stale_after_days": 30,
        "sharing_rule": "capped",
        "claims_rule": "contested",
        "is_demo": True,
        **INVENTED,
    }


class RulesIn(serializers.Serializer):
    sharing_rule = serializers.ChoiceField(choices=SHARING_RULES)
    claims_rule = serializers.ChoiceField(choices=CLAIMS_RULES)

    example = {"sharing_rule": "capped", "claims_rule": "contested"}


class CooperativeFilters(FilterSet):
    slug = Slug()
    name = Text()


class Cooperatives(Rows):
    """The cooperative that a request belongs to: its currency, its hours, what it calls safe."""

    may = {"GET": VISITORS}
    select = staticmethod(cooperatives_today)
    filters = CooperativeFilters
    output = CooperativeOut


class Cooperative(Row):
    """One cooperative. Its managers choose how things are shared."""

    may = {"GET": VISITORS, "PATCH": MANAGERS}
    select = staticmethod(cooperatives_today)
    body = {"PATCH": RulesIn}
    output = CooperativeOut

    def patch(self, request, slug):
        asked, person = read_body(RulesIn, request, partial=True), person_of(request)
        own = cooperatives_today(person.cooperative)
        one_of(own, slug=slug)
        choose_rules(by=person.member, **asked)
        return Response(CooperativeOut(one_of(own.all(), slug=slug)).data)
