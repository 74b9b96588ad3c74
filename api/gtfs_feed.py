"""A GTFS feed read whole: every file checked for itself and against the others, then what leaves from where.

`feed_of` raises Invalid with every fault by file and line. Memory grows with trips and stop times only: of a
stop time a few numbers are kept.
"""

from collections import defaultdict
from dataclasses import dataclass, field
from datetime import date
from itertools import pairwise
from typing import NamedTuple

from api import gtfs_tables as tables
from api.gtfs_zip import RIGHT_FEED, Faults, opened
from coop.errors import Invalid, Problem


class Trip(NamedTuple):
    line: int
    route: str
    service: str


class Visit(NamedTuple):
    """A trip at a stop; times are seconds of its service day, None where the feed leaves them out."""

    sequence: int
    line: int
    stop: str
    arrives: int | None
    departs: int | None
    takes_riders: bool


class Window(NamedTuple):
    """From `begins` a trip leaves every `headway` seconds before `ends`; not exactly so unless `is_exact`."""

    line: int
    begins: int
    ends: int
    headway: int
    is_exact: bool


class Calendar(NamedTuple):
    weekdays: frozenset
    first: date
    last: date


@dataclass
class Feed:
    zone: str = ""
    agencies: set = field(default_factory=set)
    stops: dict = field(default_factory=dict)
    """Stop -> its station or None."""
    routes: dict = field(default_factory=dict)
    trips: dict = field(default_factory=dict)
    visits: dict = field(default_factory=lambda: defaultdict(list))
    """Trip -> its visits, in the order of their sequence once all is read."""
    calendars: dict = field(default_factory=dict)
    exceptions: dict = field(default_factory=lambda: defaultdict(dict))
    """Service -> day -> whether it runs on it."""
    windows: dict = field(default_factory=lambda: defaultdict(list))
    own: dict = field(default_factory=dict)
    """Trip -> what our own file says of it."""


def feed_of(content):
    """The Feed that these bytes are; raises Invalid or TooLarge."""
    with opened(content) as packed:
        present = set(packed.namelist())
        require_files(present)
        feed, faults = Feed(), Faults()
        for file, read in READERS:
            if file.name in present:
                read(feed, tables.rows(packed, file, faults), faults)
                require_none(faults)
        check_trips(feed, faults)
        require_none(faults)
    return feed


def require_files(present):
    missing = [file.name for file in tables.FILES if file.is_required and file.name not in present]
    if not {tables.CALENDAR.name, tables.CALENDAR_DATES.name} & present:
        missing.append("calendar.txt or calendar_dates.txt")
    if missing:
        raise Invalid(
            f"feed: lacks {', '.join(missing)}.",
            *(Problem("feed", name, "is missing", RIGHT_FEED) for name in missing),
        )


def require_none(faults):
    if faults.count:
        first, more = faults.shown[0], faults.count - 1
        rest = f" (and {more} more)" if more else ""
        raise Invalid(f"{first.field}: {first.problem}{rest}.", *faults.shown)


def refers(faults, where, value, known, file):
    """Whether an id is one of another file's."""
    if value in known:
        return True
    faults.add(where, value, f"is not in {file.name}", "an id of that file")
    return False


def read_agencies(feed, rows, faults):
    found = list(rows)
    if not found and not faults.count:
        faults.add("agency.txt", None, "names nobody", "at least one agency")
    for line, (agency, _name, _url, zone) in found:
        if agency is None and len(found) > 1:
            faults.add(f"agency.txt line {line}, agency_id", None, "is empty", "an id: there are several")
        if feed.zone and zone != feed.zone:
            where = f"agency.txt line {line}, agency_timezone"
            faults.add(where, zone, "differs from the first", f"{feed.zone}: a feed has one time zone")
        feed.zone = feed.zone or zone
    feed.agencies = {agency for _, (agency, *_) in found}


def read_stops(feed, rows, faults):
    lines = {}
    for line, (stop, name, latitude, longitude, kind, station) in rows:
        feed.stops[stop] = station
        lines[stop] = line
        told = {"stop_name": name, "stop_lat": latitude, "stop_lon": longitude}
        for column, value in told.items():
            # Nodes of a station and places to board need neither a name nor degrees of their own.
            if value is None and kind not in (3, 4):
                faults.add(f"stops.txt line {line}, {column}", None, "is empty", "a value: it is required")
    for stop, station in feed.stops.items():
        if station is not None:
            where = f"stops.txt line {lines[stop]}, parent_station"
            refers(faults, where, station, feed.stops, tables.STOPS)


def read_routes(feed, rows, faults):
    for line, (route, agency, short, long, _kind) in rows:
        feed.routes[route] = agency
        if short is None and long is None:
            where = f"routes.txt line {line}, route_long_name"
            faults.add(where, None, "is empty, and route_short_name is, too", "one of the two names")
        if agency is not None or len(feed.agencies) > 1:
            refers(faults, f"routes.txt line {line}, agency_id", agency, feed.agencies, tables.AGENCY)


def read_trips(feed, rows, faults):
    for line, (route, service, trip, _direction) in rows:
        refers(faults, f"trips.txt line {line}, route_id", route, feed.routes, tables.ROUTES)
        feed.trips[trip] = Trip(line, route, service)


def read_stop_times(feed, rows, faults):
    stops = {stop: stop for stop in feed.stops}
    for line, (trip, arrives, departs, stop, sequence, pickup, timepoint) in rows:
        known = refers(faults, f"stop_times.txt line {line}, trip_id", trip, feed.trips, tables.TRIPS)
        known &= refers(faults, f"stop_times.txt line {line}, stop_id", stop, stops, tables.STOPS)
        if timepoint == 1 and (arrives is None or departs is None):
            where = f"stop_times.txt line {line}, departure_time"
            faults.add(where, None, "is empty", "a time: it is a timepoint")
        elif known:
            # The id as it stands in stops.txt, so that a hundred thousand visits share it.
            feed.visits[trip].append(Visit(sequence, line, stops[stop], arrives, departs, pickup != 1))


def read_calendars(feed, rows, faults):
    for line, (service, *days, first, last) in rows:
        weekdays = frozenset(number for number, runs in enumerate(days) if runs)
        feed.calendars[service] = Calendar(weekdays, first, last)
        if last < first:
            where = f"calendar.txt line {line}, end_date"
            faults.add(where, f"{last:%Y%m%d}", "is before start_date", f"{first:%Y%m%d} or later")


def read_exceptions(feed, rows, _faults):
    for _line, (service, day, kind) in rows:
        feed.exceptions[service][day] = kind == 1


def read_windows(feed, rows, faults):
    for line, (trip, begins, ends, headway, exact) in rows:
        known = refers(faults, f"frequencies.txt line {line}, trip_id", trip, feed.trips, tables.TRIPS)
        if ends <= begins:
            where = f"frequencies.txt line {line}, end_time"
            faults.add(where, clock_text(ends), "is not after start_time", f"after {clock_text(begins)}")
        elif known:
            feed.windows[trip].append(Window(line, begins, ends, headway, exact == 1))


def read_own(feed, rows, faults):
    for line, (trip, goes_on, *figures) in rows:
        refers(faults, f"{tables.OWN_FILE} line {line}, trip_id", trip, feed.trips, tables.TRIPS)
        feed.own[trip] = (bool(goes_on), *figures)


READERS = (
    (tables.AGENCY, read_agencies),
    (tables.STOPS, read_stops),
    (tables.ROUTES, read_routes),
    (tables.TRIPS, read_trips),
    (tables.STOP_TIMES, read_stop_times),
    (tables.CALENDAR, read_calendars),
    (tables.CALENDAR_DATES, read_exceptions),
    (tables.FREQUENCIES, read_windows),
    (tables.OWN, read_own),
)


def check_trips(feed, faults):
    """What only all files together tell: services, the order of times, windows that overlap."""
    services = feed.calendars.keys() | feed.exceptions.keys()
    for trip, (line, _route, service) in feed.trips.items():
        if service not in services:
            where = f"trips.txt line {line}, service_id"
            faults.add(where, service, "is in no calendar", "an id of calendar.txt or calendar_dates.txt")
        feed.visits[trip].sort()
        check_visits(feed.visits[trip], trip, line, faults)
        feed.windows[trip].sort(key=lambda window: window.begins)
        check_windows(feed.windows[trip], faults)


def check_visits(visits, trip, line, faults):
    if len(visits) < 2:
        faults.add(f"trips.txt line {line}, trip_id", trip, "has fewer than two stop times", "two at least")
        return
    for visit in (visits[0], visits[-1]):
        for name, value in (("arrival_time", visit.arrives), ("departure_time", visit.departs)):
            if value is None:
                where = f"stop_times.txt line {visit.line}, {name}"
                faults.add(where, None, "is empty", "a time: it is the first or the last stop of its trip")
    latest = 0
    for visit in visits:
        for name, value in (("arrival_time", visit.arrives), ("departure_time", visit.departs)):
            if value is not None and value < latest:
                where = f"stop_times.txt line {visit.line}, {name}"
                faults.add(where, clock_text(value), "is earlier than the time before", clock_text(latest))
            latest = max(latest, value or 0)


def check_windows(windows, faults):
    for before, after in pairwise(windows):
        if after.begins < before.ends:
            where = f"frequencies.txt line {after.line}, start_time"
            right = f"{clock_text(before.ends)} or later, where the one before ends"
            faults.add(where, clock_text(after.begins), "begins within another of its trip", right)


def clock_text(seconds):
    return f"{seconds // 3600:02d}:{seconds // 60 % 60:02d}:{seconds % 60:02d}"
