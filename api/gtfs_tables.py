"""Files of a GTFS feed with their fields, and how each is read: streaming, checked field by field.

Files, fields, what is required and what must be unique are those of the GTFS Schedule reference, written down
from memory; `tests/api/test_gtfs_tables.py` says what of it is tried. Other files and fields may be there and
are not read, as the reference allows.
"""

from typing import NamedTuple

from api.csv_columns import Unfit
from api.gtfs_fields import clock, day, degrees, number, positive, route_type, text, url, whole, word, zone
from api.gtfs_zip import records
from coop.errors import invalid

WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
OWN_FILE = "carton_hour_timetables.txt"


class Field(NamedTuple):
    name: str
    read: object
    is_required: bool = False


def needed(name, read):
    return Field(name, read, True)


class File(NamedTuple):
    """`unique` names the fields that no two lines share."""

    name: str
    fields: tuple
    unique: tuple = ()
    is_required: bool = False


AGENCY = File(
    "agency.txt",
    (
        Field("agency_id", text),
        needed("agency_name", text),
        needed("agency_url", url),
        needed("agency_timezone", zone),
    ),
    ("agency_id",),
    True,
)
STOPS = File(
    "stops.txt",
    (
        needed("stop_id", text),
        Field("stop_name", text),
        Field("stop_lat", degrees(90)),
        Field("stop_lon", degrees(180)),
        Field("location_type", word("0", "1", "2", "3", "4")),
        Field("parent_station", text),
    ),
    ("stop_id",),
    True,
)
ROUTES = File(
    "routes.txt",
    (
        needed("route_id", text),
        Field("agency_id", text),
        Field("route_short_name", text),
        Field("route_long_name", text),
        needed("route_type", route_type),
    ),
    ("route_id",),
    True,
)
TRIPS = File(
    "trips.txt",
    (
        needed("route_id", text),
        needed("service_id", text),
        needed("trip_id", text),
        Field("direction_id", word("0", "1")),
    ),
    ("trip_id",),
    True,
)
STOP_TIMES = File(
    "stop_times.txt",
    (
        needed("trip_id", text),
        Field("arrival_time", clock),
        Field("departure_time", clock),
        needed("stop_id", text),
        needed("stop_sequence", whole),
        Field("pickup_type", word("0", "1", "2", "3")),
        Field("timepoint", word("0", "1")),
    ),
    ("trip_id", "stop_sequence"),
    True,
)
CALENDAR = File(
    "calendar.txt",
    (
        needed("service_id", text),
        *(needed(name, word("0", "1")) for name in WEEKDAYS),
        needed("start_date", day),
        needed("end_date", day),
    ),
    ("service_id",),
)
CALENDAR_DATES = File(
    "calendar_dates.txt",
    (needed("service_id", text), needed("date", day), needed("exception_type", word("1", "2"))),
    ("service_id", "date"),
)
FREQUENCIES = File(
    "frequencies.txt",
    (
        needed("trip_id", text),
        needed("start_time", clock),
        needed("end_time", clock),
        needed("headway_secs", positive),
        Field("exact_times", word("0", "1")),
    ),
    ("trip_id", "start_time"),
)
# What the reference has no field for; a feed of ours that comes back is the same for it.
OWN = File(
    OWN_FILE,
    (
        needed("trip_id", text),
        needed("goes_on", word("0", "1")),
        needed("delay_hours_mean", number),
        needed("delay_hours_cv", number),
        Field("seats_left", positive),
        Field("riders_per_hour", number),
    ),
    ("trip_id",),
)
FILES = (AGENCY, STOPS, ROUTES, TRIPS, STOP_TIMES, CALENDAR, CALENDAR_DATES, FREQUENCIES, OWN)


def rows(feed, file, faults, most=1_000_000):
    """(line, values in the order of the fields) of each line that is sound; the others are faults."""
    found = records(feed, file.name)
    places, width = header_of(file, found)
    reads = list(zip(places, file.fields, strict=True))
    key = [index for index, field in enumerate(file.fields) if field.name in file.unique]
    seen = {}
    for count, (line, cells) in enumerate(found):
        if count >= most:
            raise invalid(file.name, f"more than {most} lines", "is too long", "the feed of one region")
        if len(cells) != width:
            where = f"{file.name} line {line}"
            faults.add(where, f"{len(cells)} cells", "has another length", f"{width} cells, as in the header")
            continue
        values = values_of(file, line, reads, cells, faults)
        if values is not None and is_first(file, line, values, key, seen, faults):
            yield line, values


def values_of(file, line, reads, cells, faults):
    """Values of one line, or None where one of its cells is a fault."""
    values, is_sound = [], True
    for place, field in reads:
        cell = cells[place].strip() if place is not None else ""
        try:
            if cell:
                values.append(field.read(cell))
                continue
            if field.is_required:
                raise Unfit("is empty", "a value: it is required")
            values.append(None)
        except Unfit as unfit:
            faults.add(f"{file.name} line {line}, {field.name}", cell or None, *unfit.args)
            is_sound = False
    return tuple(values) if is_sound else None


def is_first(file, line, values, key, seen, faults):
    named = tuple(values[index] for index in key) if len(key) > 1 else values[key[0]]
    first = seen.setdefault(named, line)
    if first != line:
        where = f"{file.name} line {line}, {' and '.join(file.unique)}"
        value = ", ".join(str(part) for part in (named if len(key) > 1 else [named]))
        faults.add(where, value, f"is on line {first} already", "each of them once")
    return first == line


def header_of(file, found):
    """Place of each field in the header, and how many columns it has; what is wrong stops this file."""
    _, header = next(found, (1, []))
    header = [name.strip() for name in header]
    missing = [field.name for field in file.fields if field.is_required and field.name not in header]
    twice = sorted({name for name in header if name and header.count(name) > 1})
    if missing or twice:
        problem = f"lacks {missing[0]}" if missing else f"has {twice[0]} twice"
        right = f"each of {', '.join(field.name for field in file.fields if field.is_required)} once"
        raise invalid(f"{file.name} line 1", ", ".join(header) or None, problem, right)
    return [header.index(one.name) if one.name in header else None for one in file.fields], len(header)
