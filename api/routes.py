from django_filters import FilterSet
from rest_framework import serializers

from api.figures import ESTIMATED, Figured
from api.filtering import Slug, Text
from api.places import PlaceName
from api.roles import VISITORS
from api.stored import Row, Rows
from coop.selectors.routes import legs_of, routes_of


class RouteName(serializers.Serializer):
    slug = serializers.CharField()
    name = serializers.CharField()

    example = {"slug": "mpulungu-kasama", "name": "Mpulungu to Kasama"}


class LegOut(Figured):
    id = serializers.IntegerField()
    position = serializers.IntegerField()
    start = PlaceName()
    end = PlaceName()
    distance_km = serializers.FloatField()
    hours_mean = serializers.FloatField()
    hours_floor = serializers.FloatField()
    hours_cv = serializers.FloatField()
    stop_hours_mean = serializers.FloatField()
    stop_hours_cv = serializers.FloatField()

    example = {
        "id": 1,
        "position": 1,
        "start": {"code": "mpulungu", "name": "Mpulungu"},
        "end": {"code": "mbala", "name": "Mbala"},
        "distance_km": 40.0,
        "hours_mean": 1.2,
        "hours_floor": 0.7,
        "hours_cv": 0.4,
        "stop_hours_mean": 0.5,
        "stop_hours_cv": 0.6,
        **ESTIMATED,
    }


class RouteOut(RouteName):
    origin = PlaceName()
    destination = PlaceName()
    leg_correlation = serializers.FloatField()
    legs = LegOut(many=True, source="legs.all")

    example = {
        **RouteName.example,
        "origin": {"code": "mpulungu", "name": "Mpulungu"},
        "destination": {"code": "kasama", "name": "Kasama"},
        "leg_correlation": 0.5,
        "legs": [LegOut.example],
    }


class LegWithRouteOut(LegOut):
    route = RouteName()

    example = {**LegOut.example, "route": RouteName.example}


class RouteFilters(FilterSet):
    slug = Slug()
    name = Text()
    origin = Slug(field_name="origin__code")
    destination = Slug(field_name="destination__code")


class LegFilters(FilterSet):
    route = Slug(field_name="route__slug")
    start = Slug(field_name="start__code")
    end = Slug(field_name="end__code")


class Routes(Rows):
    """Routes with their legs in order."""

    may = {"GET": VISITORS}
    select = staticmethod(routes_of)
    filters = RouteFilters
    output = RouteOut


class Route(Row):
    """One route with its legs in order."""

    may = {"GET": VISITORS}
    select = staticmethod(routes_of)
    output = RouteOut


class Legs(Rows):
    """Legs of the routes: kilometres, hours, and how much these vary."""

    may = {"GET": VISITORS}
    select = staticmethod(legs_of)
    filters = LegFilters
    output = LegWithRouteOut


class Leg(Row):
    """One leg."""

    may = {"GET": VISITORS}
    select = staticmethod(legs_of)
    output = LegWithRouteOut
