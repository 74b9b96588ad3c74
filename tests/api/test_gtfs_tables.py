"""Which fields are required, as the GTFS Schedule reference has them (from memory).

What depends on other fields or files is tried in `tests/api/test_gtfs_feed.py`.
"""

import pytest

from api import gtfs_tables as tables
from api.gtfs_zip import Faults, opened
from coop.errors import Invalid
from tests.api.feeds import zipped

REQUIRED = {
    "agency.txt": {"agency_name", "agency_url", "agency_timezone"},
    "stops.txt": {"stop_id"},
    "routes.txt": {"route_id", "route_type"},
    "trips.txt": {"route_id", "service_id", "trip_id"},
    "stop_times.txt": {"trip_id", "stop_id", "stop_sequence"},
    "calendar.txt": {"service_id", *tables.WEEKDAYS, "start_date", "end_date"},
    "calendar_dates.txt": {"service_id", "date", "exception_type"},
    "frequencies.txt": {"trip_id", "start_time", "end_time", "headway_secs"},
}
FILE = tables.CALENDAR_DATES


def read(text, **options):
    faults = Faults()
    found = list(tables.rows(opened(zipped({FILE.name: text})), FILE, faults, **options))
    return [values for _, values in found], faults


@pytest.mark.parametrize(
    "file", [file for file in tables.FILES if file is not tables.OWN], ids=lambda it: it.name
)
def test_what_is_required_is_what_the_reference_requires(file):
    assert {field.name for field in file.fields if field.is_required} == REQUIRED[file.name]


def test_only_the_two_calendars_the_windows_and_our_own_file_may_be_missing():
    optional = {file.name for file in tables.FILES if not file.is_required}
    assert optional == {"calendar.txt", "calendar_dates.txt", "frequencies.txt", tables.OWN_FILE}


def test_columns_come_in_any_order_and_others_are_not_read():
    values, faults = read("date,own,exception_type,service_id\n20260302,x,1, a \n")
    assert [(service, day.isoformat(), kind) for service, day, kind in values] == [("a", "2026-03-02", 1)]
    assert faults.count == 0


def test_every_fault_of_a_line_is_told_and_sound_lines_are_read_on():
    values, faults = read("service_id,date,exception_type\n,x,3\na,20260302,1\na,20260302,2\nb,20260303\n")
    assert len(values) == 1
    assert [one.field for one in faults.shown] == [
        "calendar_dates.txt line 2, service_id",
        "calendar_dates.txt line 2, date",
        "calendar_dates.txt line 2, exception_type",
        "calendar_dates.txt line 4, service_id and date",
        "calendar_dates.txt line 5",
    ]


@pytest.mark.parametrize("header", ["service_id,date", "service_id,date,exception_type,date", ""])
def test_a_header_that_lacks_something_or_has_it_twice_stops_the_file(header):
    with pytest.raises(Invalid) as refusal:
        read(f"{header}\na,20260302,1\n")
    assert refusal.value.problems[0].field == "calendar_dates.txt line 1"


def test_a_file_that_goes_on_for_ever_is_refused():
    lines = "".join(f"a{n},20260302,1\n" for n in range(5))
    with pytest.raises(Invalid, match="too long"):
        read(f"service_id,date,exception_type\n{lines}", most=4)
