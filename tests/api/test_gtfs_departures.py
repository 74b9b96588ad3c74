"""What leaves from where. Windows and hours after midnight as the GTFS reference says; the last departure of
08:00 to 10:00 every 30 minutes, exact, is 09:30 (reference of this project, 10)."""

from datetime import date

import pytest

from api.gtfs_departures import departures_of, require_same_hours
from api.gtfs_feed import clock_text, feed_of
from coop.errors import Invalid
from coop.services.gtfs import Figures
from tests.api.feeds import FILES, changed, zipped

OWN = "trip_id,goes_on,delay_hours_mean,delay_hours_cv,seats_left,riders_per_hour\n"
UNKNOWN = Figures()


def leaving(files=None, route="bus", stop="bay1"):
    return departures_of(feed_of(zipped(files)), route=route, stop=stop, figures=UNKNOWN)


def hours(*asked, **named):
    return [clock_text(one.seconds) for one in leaving(*asked, **named)]


def test_each_trip_of_a_route_leaves_at_its_hour():
    assert hours() == ["16:00:00", "25:30:00"]


def test_an_exact_window_leaves_every_headway_before_its_end():
    exact = [one for one in leaving(route="taxi") if not one.leaves_when_full]
    assert [clock_text(one.seconds) for one in exact] == ["08:00:00", "08:30:00", "09:00:00", "09:30:00"]


def test_a_window_that_is_not_exact_is_one_vehicle_that_leaves_when_full():
    (filling,) = [one for one in leaving(route="taxi") if one.leaves_when_full]
    assert clock_text(filling.seconds) == "12:00:00"


def test_at_a_later_stop_a_window_is_as_much_later():
    """t1 is 3 h 15 min on the road before it leaves the middle; its hours are those of the first stop."""
    assert hours(route="taxi", stop="mid") == ["11:15:00", "11:45:00", "12:15:00", "12:45:00"]


def test_a_station_stands_for_its_stops():
    assert hours(stop="park") == hours(stop="bay1")


def test_where_a_trip_ends_or_nobody_may_board_nothing_leaves():
    with pytest.raises(Invalid, match="from_stop"):
        leaving(stop="city")
    files = changed("stop_times.txt", "b1,16:00:00,16:00:00,bay1,1,0,1", "b1,16:00:00,16:00:00,bay1,1,1,1")
    assert hours(files) == ["25:30:00"]


def test_days_are_those_of_its_service_with_its_exceptions():
    service = leaving()[0].service
    assert (service.weekdays, service.first) == (frozenset(range(5)), date(2026, 3, 2))
    assert service.removed == {date(2026, 5, 1)}
    assert service.added == {date(2026, 5, 2)}


def test_our_own_file_says_what_the_feed_cannot():
    files = FILES | {"carton_hour_timetables.txt": f"{OWN}b1,1,0.5,0.8,,\n"}
    assert [one.figures for one in leaving(files)] == [Figures(True, 0.5, 0.8, None, None), UNKNOWN]


@pytest.mark.parametrize(
    ("named", "field"), [({"route": "tram"}, "trips"), ({"stop": "nowhere"}, "from_stop")]
)
def test_what_the_feed_does_not_know_is_told_with_what_it_knows(named, field):
    with pytest.raises(Invalid) as refusal:
        leaving(**named)
    (problem,) = refusal.value.problems
    assert problem.field == field
    assert "one of " in problem.right


def test_a_stop_without_an_hour_is_told_by_its_line():
    files = changed("stop_times.txt", "20:10:00,20:20:00", ",")
    with pytest.raises(Invalid) as refusal:
        leaving(files, stop="mid")
    assert refusal.value.problems[0].field == "stop_times.txt line 3, departure_time"


def test_a_window_of_every_second_is_refused():
    files = changed("frequencies.txt", "08:00:00,10:00:00,1800", "00:00:00,20:00:00,1")
    with pytest.raises(Invalid, match="too many departures"):
        leaving(files, route="taxi")


def test_a_feed_of_other_hours_is_refused_and_one_of_the_same_is_not():
    """Lusaka and Maputo keep Central Africa Time, Nairobi is an hour ahead (IANA time zones)."""
    feed = feed_of(zipped())
    require_same_hours(feed, "Africa/Maputo")
    with pytest.raises(Invalid) as refusal:
        require_same_hours(feed, "Africa/Nairobi")
    assert refusal.value.problems[0].field == "agency.txt, agency_timezone"
