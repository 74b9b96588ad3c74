"""Timetables as a GTFS feed: a carrier is an agency, a timetable a trip with a service of its own.

One that leaves when full is a window of `frequencies.txt` that is not exact, as long as it takes to fill, and
its stop times are no timepoints. What the reference has no field for stands in a file of our own.
"""

import csv
from datetime import date, timedelta
from io import BytesIO, StringIO
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from api import gtfs_tables as tables
from api.csv_columns import digits
from api.gtfs_feed import clock_text

BUS = 3
HOUR = 3600.0
# A feed must name a last day; our own file says which of them go on.
NO_END = date(2099, 12, 31)
# Where hardly anybody comes: the figures themselves stand in our own file.
LONGEST_WINDOW = 24 * 3600
# So that the same rows make the same bytes.
WRITTEN_AT = (1980, 1, 1, 0, 0, 0)


def feed_bytes(cooperative, timetables, address):
    """The zip of these timetables, which have their legs and places; `address` is where the interface is."""
    rows = list(timetables)
    files = {
        tables.AGENCY.name: agencies(cooperative, rows, address),
        tables.STOPS.name: stops(rows),
        tables.ROUTES.name: routes(rows),
        tables.TRIPS.name: trips(rows),
        tables.STOP_TIMES.name: stop_times(rows),
        tables.CALENDAR.name: calendar(rows),
        tables.FREQUENCIES.name: frequencies(rows),
        tables.OWN_FILE: own(rows),
    }
    packed = BytesIO()
    with ZipFile(packed, "w") as feed:
        for name, lines in files.items():
            feed.writestr(ZipInfo(name, WRITTEN_AT), text_of(lines), ZIP_DEFLATED)
    return packed.getvalue()


def text_of(lines):
    buffer = StringIO()
    csv.writer(buffer, lineterminator="\r\n").writerows(lines)
    return buffer.getvalue()


def once(rows, key):
    """The first row of each key, in order of the keys."""
    found = {}
    for row in rows:
        found.setdefault(key(row), row)
    return [found[one] for one in sorted(found)]


def agency_id(carrier):
    return f"carrier-{carrier.pk}"


def route_id(row):
    return f"{row.route.slug}-{row.carrier_id}"


def trip_id(row):
    return f"timetable-{row.pk}"


def agencies(cooperative, rows, address):
    carriers = [row.carrier for row in once(rows, lambda row: row.carrier_id)]
    yield "agency_id", "agency_name", "agency_url", "agency_timezone", "agency_lang"
    # A feed without any timetable is one of the cooperative itself.
    for carrier in carriers:
        yield agency_id(carrier), carrier.name, address, cooperative.time_zone, cooperative.language
    if not carriers:
        yield "none", cooperative.name, address, cooperative.time_zone, cooperative.language


def stops(rows):
    yield "stop_id", "stop_name", "stop_lat", "stop_lon", "stop_timezone"
    places = {place.code: place for row in rows for place in places_of(row.route)}
    for code in sorted(places):
        place = places[code]
        degrees = (digits(value, ".") for value in (place.latitude_deg, place.longitude_deg))
        yield code, place.name, *degrees, place.time_zone


def places_of(route):
    legs = route.legs.all()
    return [legs[0].start, *(leg.end for leg in legs)] if legs else [route.origin, route.destination]


def routes(rows):
    yield "route_id", "agency_id", "route_short_name", "route_long_name", "route_type"
    for row in once(rows, route_id):
        yield route_id(row), agency_id(row.carrier), "", row.route.name, BUS


def trips(rows):
    yield "route_id", "service_id", "trip_id"
    for row in rows:
        yield route_id(row), trip_id(row), trip_id(row)


def stop_times(rows):
    """The hour of the first place is what is known; those after it are means, and say so."""
    yield "trip_id", "arrival_time", "departure_time", "stop_id", "stop_sequence", "timepoint"
    for row in rows:
        leaves = seconds_of(row.departs_at_local)
        exact = 0 if row.leaves_when_full else 1
        for number, (place, arrives, departs) in enumerate(visits(row.route, leaves), start=1):
            timepoint = exact if number == 1 else 0
            yield trip_id(row), clock_text(arrives), clock_text(departs), place.code, number, timepoint


def visits(route, leaves):
    """(place, arrival, departure) of each place, s since the service day began."""
    at, places = float(leaves), places_of(route)
    yield places[0], leaves, leaves
    for number, leg in enumerate(route.legs.all(), start=1):
        arrives = at + leg.hours_mean * HOUR
        at = arrives if number == len(places) - 1 else arrives + leg.stop_hours_mean * HOUR
        yield leg.end, round(arrives), round(at)
    if not route.legs.all():
        yield places[-1], leaves, leaves


def calendar(rows):
    yield "service_id", *tables.WEEKDAYS, "start_date", "end_date"
    for row in rows:
        days = (int(getattr(row, name)) for name in tables.WEEKDAYS)
        last = max(row.valid_from, NO_END) if row.valid_until is None else row.valid_until - timedelta(days=1)
        yield trip_id(row), *days, f"{row.valid_from:%Y%m%d}", f"{last:%Y%m%d}"


def frequencies(rows):
    """As long as one takes to fill is the window, and the headway: one vehicle leaves in it."""
    yield "trip_id", "start_time", "end_time", "headway_secs", "exact_times"
    for row in rows:
        if row.leaves_when_full:
            begins = seconds_of(row.departs_at_local)
            fills = min(max(60, round(row.seats_left / row.riders_per_hour * HOUR)), LONGEST_WINDOW)
            yield trip_id(row), clock_text(begins), clock_text(begins + fills), fills, 0


def own(rows):
    yield [field.name for field in tables.OWN.fields]
    for row in rows:
        yield (
            trip_id(row),
            int(row.valid_until is None),
            *(
                "" if value is None else digits(value, ".")
                for value in (row.delay_hours_mean, row.delay_hours_cv, row.seats_left, row.riders_per_hour)
            ),
        )


def seconds_of(hour):
    return hour.hour * 3600 + hour.minute * 60 + hour.second
