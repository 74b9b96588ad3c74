"""A feed read whole. What is right is said by the GTFS Schedule reference (gtfs.org), from memory; times past
midnight and windows also by the reference that this project was given."""

from datetime import date

import pytest

from api.gtfs_feed import Calendar, Window, clock_text, feed_of
from coop.errors import Invalid
from tests.api.feeds import FILES, changed, without, zipped

HOUR = 3600
OTHER_AGENCY = "other,Other,https://example.org,Africa/Cairo,en\n"


def refused(files):
    with pytest.raises(Invalid) as refusal:
        feed_of(zipped(files))
    return refusal.value


def fields(files):
    return [problem.field for problem in refused(files).problems]


def test_a_feed_says_what_runs_where_and_when():
    feed = feed_of(zipped())
    assert feed.zone == "Africa/Lusaka"
    assert feed.stops == {"park": None, "bay1": "park", "mid": None, "city": None}
    assert [trip for trip, told in feed.trips.items() if told.route == "taxi"] == ["t1", "t2"]
    assert feed.calendars["weekdays"] == Calendar(frozenset(range(5)), date(2026, 3, 2), date(2026, 12, 31))
    assert feed.exceptions["weekdays"] == {date(2026, 5, 1): False, date(2026, 5, 2): True}
    assert feed.windows["t1"] == [Window(2, 8 * HOUR, 10 * HOUR, 1800, True)]


def test_times_go_past_midnight_within_their_service_day():
    feed = feed_of(zipped())
    assert feed.visits["b2"][0].departs == 25 * HOUR + 1800
    assert feed.visits["b1"][-1].arrives == 27 * HOUR


def test_visits_come_in_the_order_of_their_sequence_however_the_file_has_them():
    head, *lines = FILES["stop_times.txt"].splitlines(keepends=True)
    feed = feed_of(zipped(FILES | {"stop_times.txt": head + "".join(reversed(lines))}))
    found = [(visit.sequence, visit.stop, visit.departs) for visit in feed.visits["b1"]]
    assert found == [(1, "bay1", 16 * HOUR), (5, "mid", 20 * HOUR + 1200), (9, "city", 27 * HOUR)]


@pytest.mark.parametrize("exact", ["0", ""])
def test_a_window_is_not_exact_unless_it_says_so(exact):
    feed = feed_of(zipped(changed("frequencies.txt", "1800,1", f"1800,{exact}")))
    assert not feed.windows["t1"][0].is_exact


def test_a_mark_of_the_byte_order_and_lines_of_windows_change_nothing():
    files = {name: f"\ufeff{text}".replace("\n", "\r\n") for name, text in FILES.items()}
    assert feed_of(zipped(files)) == feed_of(zipped())


def test_files_and_fields_that_are_not_read_may_be_there():
    files = FILES | {"shapes.txt": "shape_id\n", "routes.txt": FILES["routes.txt"].replace("3\n", "3,1\n")}
    files["routes.txt"] = files["routes.txt"].replace("route_type", "route_type,own_field")
    assert feed_of(zipped(files)).routes == {"bus": "lake", "taxi": "lake"}


@pytest.mark.parametrize("name", ["agency.txt", "stops.txt", "routes.txt", "trips.txt", "stop_times.txt"])
def test_a_file_that_is_required_is_missed(name):
    assert [problem.value for problem in refused(without(name)).problems] == [name]


def test_one_of_the_two_calendars_is_enough_and_none_is_not():
    dates = {
        **without("calendar.txt"),
        "calendar_dates.txt": "service_id,date,exception_type\nweekdays,20260302,1\nsaturdays,20260307,1\n",
    }
    assert feed_of(zipped(dates)).calendars == {}
    assert feed_of(zipped(without("calendar_dates.txt"))).exceptions == {}
    assert feed_of(zipped(without("frequencies.txt"))).windows["t1"] == []
    del dates["calendar_dates.txt"]
    assert "calendar.txt or calendar_dates.txt" in refused(dates).message


@pytest.mark.parametrize(
    ("name", "before", "after", "field"),
    [
        ("agency.txt", "Africa/Lusaka", "Africa/Lake", "agency.txt line 2, agency_timezone"),
        ("agency.txt", "https://example.org", "example", "agency.txt line 2, agency_url"),
        (
            "agency.txt",
            "en\n",
            "en\nother,Other,https://x.org,Africa/Cairo,en\n",
            "agency.txt line 3, agency_timezone",
        ),
        ("stops.txt", "-8.761", "-98.761", "stops.txt line 3, stop_lat"),
        ("stops.txt", "31.2,,", ",,", "stops.txt line 4, stop_lon"),
        ("stops.txt", "0,park", "0,station", "stops.txt line 3, parent_station"),
        ("stops.txt", "city,City", "mid,City", "stops.txt line 5, stop_id"),
        ("routes.txt", "bus,lake", "bus,other", "routes.txt line 2, agency_id"),
        ("routes.txt", "Shared taxi", "", "routes.txt line 3, route_long_name"),
        ("routes.txt", "City,3", "City,9", "routes.txt line 2, route_type"),
        ("trips.txt", "bus,weekdays", "tram,weekdays", "trips.txt line 2, route_id"),
        ("trips.txt", "bus,weekdays", "bus,holidays", "trips.txt line 2, service_id"),
        ("trips.txt", "saturdays,b2", "saturdays,b1", "trips.txt line 3, trip_id"),
        ("stop_times.txt", "b1,20:10:00", "b9,20:10:00", "stop_times.txt line 3, trip_id"),
        ("stop_times.txt", "20:20:00,mid", "20:20:00,nowhere", "stop_times.txt line 3, stop_id"),
        ("stop_times.txt", "20:10:00", "20:60:00", "stop_times.txt line 3, arrival_time"),
        ("stop_times.txt", "20:20:00", "20:05:00", "stop_times.txt line 3, departure_time"),
        ("stop_times.txt", "20:10:00", "15:10:00", "stop_times.txt line 3, arrival_time"),
        ("stop_times.txt", "36:00:00,36:00:00", ",36:00:00", "stop_times.txt line 6, arrival_time"),
        ("stop_times.txt", "mid,5", "mid,1", "stop_times.txt line 3, trip_id and stop_sequence"),
        ("stop_times.txt", "mid,5", "mid,-5", "stop_times.txt line 3, stop_sequence"),
        ("calendar.txt", "20260302,20261231", "20260302,20260301", "calendar.txt line 2, end_date"),
        ("calendar.txt", "20260302", "2026-03-02", "calendar.txt line 2, start_date"),
        ("calendar.txt", "weekdays,1", "weekdays,2", "calendar.txt line 2, monday"),
        ("calendar_dates.txt", "20260501,2", "20260501,3", "calendar_dates.txt line 2, exception_type"),
        ("calendar_dates.txt", "20260502", "20260501", "calendar_dates.txt line 3, service_id and date"),
        ("frequencies.txt", "10:00:00", "08:00:00", "frequencies.txt line 2, end_time"),
        ("frequencies.txt", "1800", "0", "frequencies.txt line 2, headway_secs"),
        ("frequencies.txt", "t1,", "t9,", "frequencies.txt line 2, trip_id"),
        ("frequencies.txt", "t2,12", "t1,09", "frequencies.txt line 3, start_time"),
    ],
)
def test_what_the_reference_does_not_allow_is_named_by_file_and_line(name, before, after, field):
    assert fields(changed(name, before, after))[0] == field


def test_a_timepoint_has_both_times():
    files = changed("stop_times.txt", "20:20:00,mid,5,0,0", ",mid,5,0,1")
    assert fields(files) == ["stop_times.txt line 3, departure_time"]


def test_a_stop_between_may_be_without_times():
    feed = feed_of(zipped(changed("stop_times.txt", "20:10:00,20:20:00", ",")))
    assert feed.visits["b1"][1].departs is None


def test_a_trip_stops_at_least_twice():
    files = changed("stop_times.txt", "b2,36:00:00,36:00:00,city,2,,\n", "")
    assert fields(files) == ["trips.txt line 3, trip_id"]


def test_every_fault_is_told_at_once_and_a_hundred_of_them_shown():
    lines = "".join(f"b1,x,20:20:00,mid,{n},0,0\n" for n in range(20, 170))
    refusal = refused(FILES | {"stop_times.txt": FILES["stop_times.txt"] + lines})
    assert len(refusal.problems) == 100
    assert refusal.message == "stop_times.txt line 12, arrival_time: is no time (and 149 more)."


def test_a_time_is_written_as_a_feed_has_it():
    assert clock_text(25 * HOUR + 61) == "25:01:01"
