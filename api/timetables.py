from django_filters import FilterSet
from rest_framework import serializers

from api.carriers import CarrierName
from api.figures import INVENTED, Dated, Figured
from api.filtering import CountsOn, Slug, Truth, Whole
from api.roles import VISITORS
from api.routes import RouteName
from api.stored import Row, Rows
from coop.selectors.timetables import timetables_of


class TimetableOut(Figured, Dated):
    id = serializers.IntegerField()
    carrier = CarrierName()
    route = RouteName()
    weekdays = serializers.ListField(
        child=serializers.IntegerField(min_value=0, max_value=6),
        help_text="days on which it leaves, 0 is Monday",
    )
    departs_at_local = serializers.TimeField()
    leaves_when_full = serializers.BooleanField()
    delay_hours_mean = serializers.FloatField()
    delay_hours_cv = serializers.FloatField()
    seats_left = serializers.IntegerField(allow_null=True)
    riders_per_hour = serializers.FloatField(allow_null=True)

    example = {
        "id": 7,
        "carrier": CarrierName.example,
        "route": RouteName.example,
        "weekdays": [0, 2, 4],
        "departs_at_local": "16:00:00",
        "leaves_when_full": False,
        "delay_hours_mean": 0.5,
        "delay_hours_cv": 0.8,
        "seats_left": None,
        "riders_per_hour": None,
        "valid_from": "2026-01-01",
        "valid_until": None,
        **INVENTED,
    }


class TimetableFilters(FilterSet):
    route = Slug(field_name="route__slug")
    carrier = Whole(field_name="carrier_id")
    leaves_when_full = Truth()
    on = CountsOn()


class Timetables(Rows):
    """Hours at which carriers leave, and on which days of the week."""

    may = {"GET": VISITORS}
    select = staticmethod(timetables_of)
    filters = TimetableFilters
    output = TimetableOut


class Timetable(Row):
    """One hour of departure."""

    may = {"GET": VISITORS}
    select = staticmethod(timetables_of)
    output = TimetableOut
