from django_filters import FilterSet
from rest_framework import serializers

from api.figures import INVENTED, Figured
from api.filtering import Slug, Text
from api.stored import Row, Rows
from coop.selectors.cooperatives import cooperatives_of


class CooperativeOut(Figured):
    slug = serializers.CharField()
    name = serializers.CharField()
    currency = serializers.CharField()
    currency_decimals = serializers.IntegerField()
    coin_minor = serializers.IntegerField()
    language = serializers.CharField()
    time_zone = serializers.CharField()
    confidence = serializers.FloatField()
    softened_share_limit = serializers.FloatField()
    closing_lead_minutes = serializers.FloatField()
    electricity_price_minor_per_kwh = serializers.IntegerField()
    freezing_kwh_per_kg = serializers.FloatField()
    labour_price_minor_per_hour = serializers.IntegerField()
    packing_minutes_per_carton = serializers.FloatField()
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
        "is_demo": True,
        **INVENTED,
    }


class CooperativeFilters(FilterSet):
    slug = Slug()
    name = Text()


class Cooperatives(Rows):
    """The cooperative that a request belongs to: its currency, its hours, what it calls safe."""

    select = staticmethod(cooperatives_of)
    filters = CooperativeFilters
    output = CooperativeOut


class Cooperative(Row):
    """One cooperative."""

    select = staticmethod(cooperatives_of)
    output = CooperativeOut
