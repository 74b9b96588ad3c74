from django_filters import FilterSet
from rest_framework import serializers

from api.figures import ESTIMATED, Figured
from api.filtering import Day, OneOf, Slug, Text, Whole
from api.roles import VISITORS
from api.stored import Row, Rows, shared
from coop.selectors.places import climates, day_weathers_of, places


class PlaceName(serializers.Serializer):
    code = serializers.CharField()
    name = serializers.CharField()

    example = {"code": "kasama", "name": "Kasama"}


class MonthOut(Figured):
    month = serializers.IntegerField()
    temperature_max_c = serializers.FloatField()
    temperature_min_c = serializers.FloatField()
    cloud_share = serializers.FloatField()
    cloud_figures = serializers.CharField()

    example = {
        "month": 10,
        "temperature_max_c": 31.0,
        "temperature_min_c": 16.5,
        "cloud_share": 0.4,
        "cloud_figures": "estimated",
        **ESTIMATED,
    }


class PlaceOut(Figured, PlaceName):
    country = serializers.CharField()
    latitude_deg = serializers.FloatField()
    longitude_deg = serializers.FloatField()
    altitude_m = serializers.FloatField()
    time_zone = serializers.CharField()
    climate = MonthOut(many=True, source="climates.all")

    example = {
        **PlaceName.example,
        "country": "ZM",
        "latitude_deg": -10.21,
        "longitude_deg": 31.18,
        "altitude_m": 1380.0,
        "time_zone": "Africa/Lusaka",
        "climate": [MonthOut.example],
        **ESTIMATED,
    }


class ClimateOut(MonthOut):
    id = serializers.IntegerField()
    place = PlaceName()

    example = {"id": 34, "place": PlaceName.example, **MonthOut.example}


class DayWeatherOut(serializers.Serializer):
    id = serializers.IntegerField()
    place = PlaceName()
    date = serializers.DateField()
    temperature_max_c = serializers.FloatField()
    temperature_min_c = serializers.FloatField()
    cloud_share = serializers.FloatField(allow_null=True)
    kind = serializers.CharField()

    example = {
        "id": 5,
        "place": PlaceName.example,
        "date": "2026-03-02",
        "temperature_max_c": 27.5,
        "temperature_min_c": 16.0,
        "cloud_share": None,
        "kind": "forecast",
    }


class PlaceFilters(FilterSet):
    code = Slug()
    name = Text()
    country = Slug()


class ClimateFilters(FilterSet):
    place = Slug(field_name="place__code")
    month = Whole(most=12)


class DayWeatherFilters(FilterSet):
    place = Slug(field_name="place__code")
    from_date = Day(field_name="date", lookup_expr="gte")
    to_date = Day(field_name="date", lookup_expr="lte")
    kind = OneOf("observed", "forecast")


class Places(Rows):
    """Places of the routes, with the climate of each month."""

    may = {"GET": VISITORS}
    select = shared(places)
    filters = PlaceFilters
    output = PlaceOut


class Place(Row):
    """One place with its climate."""

    may = {"GET": VISITORS}
    select = shared(places)
    output = PlaceOut


class Climates(Rows):
    """What each month is like at each place: the mean of many years."""

    may = {"GET": VISITORS}
    select = shared(climates)
    filters = ClimateFilters
    output = ClimateOut


class Climate(Row):
    """One month at one place."""

    may = {"GET": VISITORS}
    select = shared(climates)
    output = ClimateOut


class DayWeathers(Rows):
    """Weather that somebody entered for a day: it stands in for the climate."""

    may = {"GET": VISITORS}
    select = staticmethod(day_weathers_of)
    filters = DayWeatherFilters
    output = DayWeatherOut


class DayWeather(Row):
    """The weather of one day at one place."""

    may = {"GET": VISITORS}
    select = staticmethod(day_weathers_of)
    output = DayWeatherOut
