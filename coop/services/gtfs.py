"""Timetables of one carrier on one route, taken in from a feed that `api/gtfs_feed.py` has read."""

from collections import defaultdict
from dataclasses import dataclass
from datetime import time
from itertools import pairwise

from django.utils import timezone

from coop.errors import Conflict, Problem, invalid
from coop.models import Carrier, Member, Route
from coop.selectors.exports import timetable_lines
from coop.selectors.payments import local_today
from coop.services.gtfs_days import Period, Service, periods
from coop.services.imports import Taken, take_in
from coop.services.imports_subjects import TIMETABLES
from coop.services.roles import require_manager, require_own

SECONDS_OF_A_DAY = 86_400
FIGURES = ("delay_hours_mean", "delay_hours_cv", "seats_left", "riders_per_hour")
WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")


@dataclass(frozen=True)
class Figures:
    """What a feed has no field for. `goes_on`: its last day is only there because a feed must name one."""

    goes_on: bool = False
    delay_hours_mean: float | None = None
    delay_hours_cv: float | None = None
    seats_left: int | None = None
    riders_per_hour: float | None = None


@dataclass(frozen=True)
class Departure:
    """One hour at which something leaves: `seconds` since its service day began, maybe past midnight."""

    place: str
    seconds: int
    service: Service
    leaves_when_full: bool
    figures: Figures


def take_in_feed(
    *, by: Member, carrier: Carrier, route: Route, departures: list, dry_run: bool, now=None
) -> Taken:
    """Makes each Departure of a feed a timetable from today on; what is over is left out.

    Timetables that the feed does not name stay. All or nothing; with `dry_run` nothing is written.
    """
    require_manager(by, "take in a feed")
    require_own(by, carrier, route)
    now = now or timezone.now()
    today = local_today(by.cooperative, now)
    stored = [
        line
        for line in timetable_lines(by.cooperative)
        if line["carrier"] == carrier.name and line["route"] == route.slug
    ]
    known = known_figures(stored, today)
    lines = []
    for place, found in dated(departures, known):
        values = {"carrier": carrier.name, "route": route.slug, **found}
        if values["valid_until"] is None or values["valid_until"] > today:
            lines.append((place, from_today(values, stored, today)))
    return take_in(by=by, subject=TIMETABLES, lines=lines, dry_run=dry_run, note="GTFS", now=now)


def known_figures(stored, today):
    """Figures of the timetable of this carrier and route that began last, for what a feed does not say."""
    begun = [line for line in stored if line["valid_from"] <= today] or stored
    last = max(begun, key=lambda line: line["valid_from"], default=dict.fromkeys(FIGURES))
    return Figures(False, *(last[name] for name in FIGURES))


def dated(departures, known):
    """(place, values) of each timetable that these departures are, the days apart that they name by date."""
    groups = defaultdict(list)
    for one in departures:
        days, seconds = divmod(one.seconds, SECONDS_OF_A_DAY)
        hour = time(seconds // 3600, seconds // 60 % 60, seconds % 60)
        groups[hour, one.leaves_when_full, one.figures].append((one.place, one.service.moved(days)))
    found = defaultdict(list)
    for (hour, is_filling, figures), services in groups.items():
        place = services[0][0]
        told = told_figures(place, figures, known, is_filling)
        spans = periods([service for _, service in services])
        for period in spans:
            open_end = figures.goes_on and period is spans[-1]
            found[hour].append((period, place, is_filling, told, open_end))
    for hour, parts in sorted(found.items()):
        parts.sort(key=lambda part: part[0].begins)
        require_apart(hour, parts)
        yield from ((part[1], values_of(hour, *part)) for part in parts)


def told_figures(place, figures, known, is_filling):
    """Figures of a timetable: what was said, else what is known of others of this carrier and route."""
    values = {name: getattr(figures, name) for name in FIGURES}
    values = {name: getattr(known, name) if value is None else value for name, value in values.items()}
    if not is_filling:
        values |= {"seats_left": figures.seats_left, "riders_per_hour": figures.riders_per_hour}
    needed = FIGURES if is_filling else FIGURES[:2]
    for name in needed:
        if values[name] is None:
            problem = f"is not known: the feed has no field for it ({place})"
            raise invalid(name, None, problem, "a number beside the other parameters")
    return values


def require_apart(hour, parts):
    """One hour has one timetable at a time: the same hour twice with other figures would hide one of them."""
    for (before, place, *_), (after, other, *_) in pairwise(parts):
        if after.begins < before.ends:
            wrong = Problem(
                place, f"{hour}", f"leaves at the same hour as {other}, in another way", "one of both"
            )
            raise Conflict(f"{place}: leaves at {hour} as {other} does, in another way.", wrong)


def values_of(hour, period: Period, _place, is_filling, figures, open_end):
    weekdays = {name: number in period.weekdays for number, name in enumerate(WEEKDAYS)}
    return {
        "departs_at_local": hour,
        "valid_from": period.begins,
        "valid_until": None if open_end else period.ends,
        **weekdays,
        "leaves_when_full": is_filling,
        **figures,
    }


def from_today(values, stored, today):
    """What began before today counts from today on; where the same is stored already, from its day on."""
    if values["valid_from"] >= today:
        return values
    dates = ("valid_from", "valid_until")

    def plain(line):
        return {name: value for name, value in line.items() if name not in dates}

    same = [line for line in stored if plain(line) == plain(values) and line["valid_from"] <= today]
    counting = [line for line in same if line["valid_until"] is None or line["valid_until"] > today]
    return values | {"valid_from": counting[0]["valid_from"] if counting else today}
