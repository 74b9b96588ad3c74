from itertools import pairwise

from django.db import models
from django.db.models import F, Q

from coop.models.columns import Link, Slug, Text
from coop.models.figures import Figured, sourced
from coop.models.keys import Keyed
from coop.models.measures import VARIATION, Range, number, ranges, rule, whole
from coop.models.ownership import Owned, PartOfOwned
from coop.models.places import Place

CORRELATION = Range(0, 0.99)
POSITION = Range(1, 99)
DISTANCE = Range(0.1, 3000)
LEG_HOURS = Range(0.01, 200)
FLOOR_HOURS = Range(0, 200)
STOP_HOURS = Range(0, 48)


class Route(Owned, Keyed):
    key_fields = ("cooperative__slug", "slug")

    slug = Slug("short name")
    name = Text("name", max_length=120)
    origin = Link(Place, on_delete=models.PROTECT, related_name="routes_from", verbose_name="from")
    destination = Link(Place, on_delete=models.PROTECT, related_name="routes_to", verbose_name="to")
    leg_correlation = number(
        "correlation of the legs",
        CORRELATION,
        "0 when a slow leg says nothing of the next; 0.5 is a careful guess: one driver, vehicle, weather",
        default=0.5,
    )

    class Meta:
        ordering = ("name", "id")
        constraints = [
            models.UniqueConstraint(fields=["cooperative", "slug"], name="route_slug_once_in_a_cooperative"),
            rule(
                "route_leads_elsewhere",
                ~Q(origin=F("destination")),
                "A route leads from one place to another.",
            ),
            *ranges("route", leg_correlation=CORRELATION),
        ]

    def __str__(self):
        return self.name


class Leg(PartOfOwned, Figured):
    """From one place of a route to the next, with the stop at its end."""

    owned_through = "route__cooperative"
    key_fields = ("route__cooperative__slug", "route__slug", "position")

    route = Link(Route, on_delete=models.CASCADE, related_name="legs", verbose_name="route")
    position = whole("position", POSITION, "1 is the first leg")
    start = Link(Place, on_delete=models.PROTECT, related_name="legs_from", verbose_name="from")
    end = Link(Place, on_delete=models.PROTECT, related_name="legs_to", verbose_name="to")
    distance_km = number("distance (km)", DISTANCE, "by road")
    hours_mean = number("hours, mean", LEG_HOURS, "on the road, without the stop at the end")
    hours_floor = number("hours, at the very least", FLOOR_HOURS, "no vehicle is faster than this")
    hours_cv = number(
        "variation of the hours", VARIATION, "standard deviation over mean, of the time above the least"
    )
    stop_hours_mean = number("hours of the stop at its end, mean", STOP_HOURS, "checks, fuel, food, waiting")
    stop_hours_cv = number("variation of the stop", VARIATION, "standard deviation over mean")

    class Meta:
        ordering = ("route", "position")
        constraints = [
            models.UniqueConstraint(fields=["route", "position"], name="leg_position_once_on_a_route"),
            rule("leg_leads_elsewhere", ~Q(start=F("end")), "A leg leads from one place to another."),
            rule(
                "leg_floor_below_mean",
                Q(hours_floor__lt=F("hours_mean")),
                "The least hours are fewer than the mean hours.",
            ),
            *ranges(
                "leg",
                position=POSITION,
                distance_km=DISTANCE,
                hours_mean=LEG_HOURS,
                hours_floor=FLOOR_HOURS,
                hours_cv=VARIATION,
                stop_hours_mean=STOP_HOURS,
                stop_hours_cv=VARIATION,
            ),
            *sourced("leg"),
        ]

    def __str__(self):
        return f"{self.start}–{self.end}"


def broken_chain(route, legs):
    """What is wrong when the legs do not lead from the route's start to its end, or None."""
    legs = sorted(legs, key=lambda leg: leg.position)
    if not legs:
        return None
    if [leg.position for leg in legs] != list(range(1, len(legs) + 1)):
        return "number the legs 1, 2, 3 … without a gap"
    for before, after in pairwise(legs):
        if before.end_id != after.start_id:
            return f"leg {after.position} must begin where leg {before.position} ends, at {before.end}"
    if legs[0].start_id != route.origin_id:
        return f"the first leg must begin at {route.origin}"
    if legs[-1].end_id != route.destination_id:
        return f"the last leg must end at {route.destination}"
    return None
