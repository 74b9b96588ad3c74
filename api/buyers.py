from django_filters import FilterSet
from rest_framework import serializers

from api.cooperative import today_of
from api.figures import INVENTED, Figured
from api.filtering import OneOf, Slug, Text
from api.places import PlaceName
from api.roles import VISITORS
from api.stored import Row, Rows
from coop.selectors.buyers import buyers_on


def buyers_today(cooperative):
    return buyers_on(cooperative, today_of(cooperative))


class BuyerName(serializers.Serializer):
    slug = serializers.CharField()
    name = serializers.CharField()

    example = {"slug": "city-market", "name": "A stall in the city"}


class ReceivingHoursOut(serializers.Serializer):
    weekday = serializers.IntegerField(help_text="0 is Monday")
    opens_at = serializers.TimeField()
    closes_at = serializers.TimeField()

    example = {"weekday": 0, "opens_at": "07:00:00", "closes_at": "17:00:00"}


class BuyerOut(Figured, BuyerName):
    place = PlaceName()
    limit_kind = serializers.CharField(allow_null=True, help_text="null: no limit counts today")
    limit_value = serializers.FloatField(allow_null=True)
    last_stretch_hours_mean = serializers.FloatField()
    last_stretch_hours_cv = serializers.FloatField()
    waits_in = serializers.CharField()
    receiving_hours = ReceivingHoursOut(many=True, source="receiving_hours.all")

    example = {
        **BuyerName.example,
        "place": {"code": "lusaka", "name": "Lusaka"},
        "limit_kind": "softened_share",
        "limit_value": 0.05,
        "last_stretch_hours_mean": 0.75,
        "last_stretch_hours_cv": 0.5,
        "waits_in": "shade",
        "receiving_hours": [ReceivingHoursOut.example],
        **INVENTED,
    }


class BuyerFilters(FilterSet):
    slug = Slug()
    name = Text()
    place = Slug(field_name="place__code")
    limit_kind = OneOf("softened_share", "core_c", "mean_c", "warmest_c")


class Buyers(Rows):
    """Who takes the fish, at what limit, and in which hours."""

    may = {"GET": VISITORS}
    select = staticmethod(buyers_today)
    filters = BuyerFilters
    output = BuyerOut


class Buyer(Row):
    """One buyer with the hours in which fish is taken."""

    may = {"GET": VISITORS}
    select = staticmethod(buyers_today)
    output = BuyerOut
