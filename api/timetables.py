from rest_framework import serializers

from api.carriers import CarrierName
from api.changes import Confirmation, ConfirmedChangeIn, Ending, Withdrawal, changed
from api.figures import INVENTED, Dated, Figured
from api.filtering import DatedFilters, Slug, Truth, Whole
from api.question import Number
from api.question_fields import LARGEST, chosen
from api.roles import MANAGERS, VISITORS
from api.routes import RouteName
from api.stored import Row, Rows
from coop.selectors.carriers import carriers_of
from coop.selectors.routes import routes_of
from coop.selectors.timetables import timetables_of
from coop.services.timetables import change_timetable


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
    confirmed_on = serializers.DateField(allow_null=True)

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
        "confirmed_on": "2026-02-20",
        "valid_from": "2026-01-01",
        "valid_until": None,
        **INVENTED,
    }


class TimetableIn(ConfirmedChangeIn):
    carrier = serializers.IntegerField(min_value=1, max_value=LARGEST, help_text="id of a carrier")
    route = serializers.SlugField(max_length=64, help_text="short name of a route")
    departs_at_local = serializers.TimeField(
        input_formats=["%H:%M", "%H:%M:%S"], help_text="an hour such as 16:00, where the route begins"
    )
    weekdays = serializers.ListField(
        child=serializers.IntegerField(min_value=0, max_value=6),
        min_length=1,
        max_length=7,
        help_text="days on which it leaves, 0 is Monday",
    )
    leaves_when_full = serializers.BooleanField(default=False)
    delay_hours_mean = Number(min_value=0, max_value=72)
    delay_hours_cv = Number(min_value=0, max_value=5)
    seats_left = serializers.IntegerField(min_value=1, max_value=200, allow_null=True, default=None)
    riders_per_hour = Number(min_value=0.01, max_value=500, allow_null=True, default=None)

    example = {
        **ConfirmedChangeIn.example,
        "carrier": 1,
        "route": "mpulungu-kasama",
        "departs_at_local": "16:00",
        "weekdays": [0, 2, 4],
        "delay_hours_mean": 0.5,
        "delay_hours_cv": 0.8,
    }


class TimetableFilters(DatedFilters):
    route = Slug(field_name="route__slug")
    carrier = Whole(field_name="carrier_id")
    leaves_when_full = Truth()


class Timetables(Rows):
    """Hours at which carriers leave, and on which days of the week."""

    may = {"GET": VISITORS, "POST": MANAGERS}
    select = staticmethod(timetables_of)
    filters = TimetableFilters
    body = {"POST": TimetableIn}
    output = TimetableOut
    status = {"POST": 201}

    def post(self, request):
        return changed(self, request, TimetableIn, change_timetable, way_named)


def way_named(asked, cooperative):
    """An hour with rows in place of the words that name carrier and route."""
    return {
        **asked,
        "carrier": chosen(carriers_of(cooperative), "carrier", asked["carrier"], key="pk"),
        "route": chosen(routes_of(cooperative), "route", asked["route"]),
    }


class Timetable(Row):
    """One hour of departure."""

    may = {"GET": VISITORS}
    select = staticmethod(timetables_of)
    output = TimetableOut


class TimetableConfirmation(Confirmation):
    """Somebody asked: this hour is still right."""

    select = staticmethod(timetables_of)
    output = TimetableOut


class TimetableEnding(Ending):
    """From a day on this hour no longer counts."""

    select = staticmethod(timetables_of)
    output = TimetableOut


class TimetableWithdrawal(Withdrawal):
    """A change that has not begun is taken back."""

    select = staticmethod(timetables_of)
