"""What of a feed leaves from one stop on one of its routes: hours, the days on which they run, figures."""

from datetime import date, datetime
from zoneinfo import ZoneInfo

from api.gtfs_feed import clock_text
from coop.errors import Problem, invalid
from coop.services.gtfs import Departure, Figures
from coop.services.gtfs_days import Service

MOST_DEPARTURES = 5000


def departures_of(feed, *, route, stop, figures):
    """Departures of a Feed from a stop, or from any stop of a station; `figures` for trips without their own.

    Raises Invalid where the feed does not know the route or the stop, or nothing leaves there.
    """
    if route not in feed.routes:
        raise invalid("trips", route, "is no route of this feed", some_of(feed.routes))
    if stop not in feed.stops:
        raise invalid("from_stop", stop, "is no stop of this feed", some_of(feed.stops))
    found = []
    for trip, told in feed.trips.items():
        visit = boarding(feed, trip, stop) if told.route == route else None
        if visit:
            found += leaving(feed, trip, visit, service_of(feed, told.service), figures)
    if not found:
        served = {
            visit.stop
            for trip, told in feed.trips.items()
            if told.route == route
            for visit in feed.visits[trip][:-1]
        }
        raise invalid(
            "from_stop", stop, "is a stop where no trip of this route begins or goes on", some_of(served)
        )
    if len(found) > MOST_DEPARTURES:
        raise invalid(
            "feed", f"{len(found)} departures", "are too many", f"at most {MOST_DEPARTURES} of one route"
        )
    return found


def some_of(ids):
    shown = sorted(ids)[:10]
    return (
        f"one of {', '.join(shown)}{' and others' if len(ids) > len(shown) else ''}" if shown else "none here"
    )


def boarding(feed, trip, stop):
    """The visit at which somebody boards a trip at a stop: not where it ends, nor where nobody may."""
    for visit in feed.visits[trip][:-1]:
        if stop in (visit.stop, feed.stops[visit.stop]) and visit.takes_riders:
            return visit
    return None


def leaving(feed, trip, visit, service, figures):
    """Departures of one trip: its own hour, or those of its windows."""
    if visit.departs is None:
        where = f"stop_times.txt line {visit.line}, departure_time"
        raise invalid(where, None, "is empty", "a time: it leaves from here")
    figures = own_figures(feed, trip, figures)
    if not feed.windows[trip]:
        return [Departure(f"trip {trip}", visit.departs, service, False, figures)]
    # A window names the hours of the first stop; the times of the trip only say how long it takes from there.
    after = visit.departs - feed.visits[trip][0].departs
    found = []
    for window in feed.windows[trip]:
        hours = range(window.begins, window.ends, window.headway) if window.is_exact else [window.begins]
        if len(hours) > MOST_DEPARTURES:
            where = f"frequencies.txt line {window.line}, headway_secs"
            raise invalid(where, window.headway, "makes too many departures", "longer, or a shorter window")
        found += [
            Departure(
                f"trip {trip} at {clock_text(hour + after)}",
                hour + after,
                service,
                not window.is_exact,
                figures,
            )
            for hour in hours
        ]
    return found


def own_figures(feed, trip, figures):
    """What our own file says of a trip, else what was asked for."""
    return Figures(*feed.own[trip]) if trip in feed.own else figures


def service_of(feed, name):
    calendar, exceptions = feed.calendars.get(name), feed.exceptions.get(name, {})
    added = frozenset(day for day, runs in exceptions.items() if runs)
    if calendar is None:
        return Service(added=added)
    removed = frozenset(day for day, runs in exceptions.items() if not runs)
    return Service(calendar.weekdays, calendar.first, calendar.last, added, removed)


def require_same_hours(feed, zone):
    """Refuses a feed whose clocks do not show what those of the cooperative show."""
    if any(offset(feed.zone, month) != offset(zone, month) for month in range(1, 13)):
        wrong = Problem("agency.txt, agency_timezone", feed.zone, "has other hours", f"the hours of {zone}")
        raise invalid(wrong.field, wrong.value, wrong.problem, wrong.right)


def offset(zone, month):
    return ZoneInfo(zone).utcoffset(datetime.combine(date(2026, month, 15), datetime.min.time()))
