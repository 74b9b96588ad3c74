from functools import reduce
from operator import or_

from django.db import models
from django.db.models import Q

from coop.models.carriers import Carrier
from coop.models.columns import Day, Hour, Link, YesNo
from coop.models.figures import Figured, sourced
from coop.models.history import History
from coop.models.measures import VARIATION, Range, number, ranges, rule, whole
from coop.models.ownership import Owned
from coop.models.routes import Route
from coop.models.validity import Dated, dated

DELAY_HOURS = Range(0, 72)
SEATS = Range(1, 200)
RIDERS = Range(0.01, 500)
ALIKE = ("carrier_id", "route_id", "departs_at_local")
WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")


class Timetable(Dated, Owned, Figured):
    """One hour of the day at which one carrier leaves on one route, on some days of the week."""

    key_fields = (
        "carrier__cooperative__slug",
        "carrier__name",
        "route__slug",
        "departs_at_local",
        "valid_from",
    )
    alike = ("carrier", "route", "departs_at_local")
    within_cooperative = ("carrier", "route")

    carrier = Link(Carrier, on_delete=models.PROTECT, related_name="timetables", verbose_name="carrier")
    route = Link(Route, on_delete=models.PROTECT, related_name="timetables", verbose_name="route")
    monday = YesNo("Monday", default=False)
    tuesday = YesNo("Tuesday", default=False)
    wednesday = YesNo("Wednesday", default=False)
    thursday = YesNo("Thursday", default=False)
    friday = YesNo("Friday", default=False)
    saturday = YesNo("Saturday", default=False)
    sunday = YesNo("Sunday", default=False)
    departs_at_local = Hour(
        "leaves at", help_text="local hour of the first place; one that leaves when full begins to load then"
    )
    leaves_when_full = YesNo("leaves when full", default=False)
    delay_hours_mean = number("hours late, mean", DELAY_HOURS, "after the hour above, or after it is full")
    delay_hours_cv = number("variation of the delay", VARIATION, "standard deviation over mean")
    seats_left = whole(
        "seats still to fill", SEATS, "when it begins to load; only for one that leaves when full", null=True
    )
    riders_per_hour = number(
        "riders an hour",
        RIDERS,
        "who come to the taxi park for it; only for one that leaves when full",
        null=True,
    )
    confirmed_on = Day(
        "last confirmed on",
        null=True,
        blank=True,
        help_text="when somebody last asked; empty: nobody did yet",
    )

    history = History()

    class Meta:
        ordering = ("route", "departs_at_local", "carrier", "valid_from", "id")
        constraints = [
            rule(
                "timetable_runs_on_some_day",
                reduce(or_, (Q(**{day: True}) for day in WEEKDAYS)),
                "It leaves on at least one day of the week.",
            ),
            rule(
                "timetable_filling_knows_seats_and_riders",
                Q(leaves_when_full=False) | Q(seats_left__isnull=False, riders_per_hour__isnull=False),
                "One that leaves when full needs the seats still to fill and the riders an hour.",
            ),
            *ranges(
                "timetable",
                delay_hours_mean=DELAY_HOURS,
                delay_hours_cv=VARIATION,
                seats_left=SEATS,
                riders_per_hour=RIDERS,
            ),
            *sourced("timetable"),
            *dated("timetable"),
        ]

    def __str__(self):
        return f"{self.carrier}, {self.route}, {str(self.departs_at_local)[:5]}"

    def leaves_like(self, other):
        """Whether both are of one carrier on one route at one hour, on whichever days."""
        return all(getattr(self, name) == getattr(other, name) for name in ALIKE)

    @property
    def weekdays(self):
        """Days on which it leaves, 0 is Monday."""
        return tuple(index for index, day in enumerate(WEEKDAYS) if getattr(self, day))
