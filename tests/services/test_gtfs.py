"""Departures of a feed become timetables of one carrier on one route."""

from datetime import date, time, timedelta

import pytest

from coop.errors import Conflict, Invalid, NotFound
from coop.models import Timetable
from coop.services.gtfs import Departure, Figures, take_in_feed
from coop.services.gtfs_days import Service
from tests.services.packing_day import NOW, packing_day

pytestmark = pytest.mark.django_db
TODAY = date(2026, 3, 1)
HOUR = 3600
WORKDAYS = frozenset(range(5))
YEAR = Service(WORKDAYS, date(2026, 4, 1), date(2026, 12, 31))
LATE = Figures(False, 0.25, 0.5, None, None)


@pytest.fixture
def day():
    return packing_day()


def at(hours, service=YEAR, *, full=False, figures=LATE):
    return Departure(f"trip at {hours}", int(hours * HOUR), service, full, figures)


def taken(day, *departures, dry_run=False, now=NOW, **whose):
    asked = {"by": day.manager, "carrier": day.carrier, "route": day.route} | whose
    return take_in_feed(**asked, departures=list(departures), dry_run=dry_run, now=now)


def timetables(day, hour):
    rows = Timetable.objects.of(day.cooperative).filter(departs_at_local=hour).order_by("valid_from")
    return [(row.weekdays, row.valid_from, row.valid_until) for row in rows]


def test_a_departure_becomes_a_timetable_whose_last_day_is_the_day_after(day):
    assert taken(day, at(8)).counts == {"new": 1, "changed": 0, "same": 0}
    assert timetables(day, time(8)) == [((0, 1, 2, 3, 4), date(2026, 4, 1), date(2027, 1, 1))]
    row = Timetable.objects.get(departs_at_local=time(8))
    assert (row.delay_hours_mean, row.delay_hours_cv, row.leaves_when_full) == (0.25, 0.5, False)


def test_what_leaves_after_midnight_leaves_on_the_next_day(day):
    """25:30:00 of Monday is 01:30 on Tuesday."""
    taken(day, at(25.5))
    days = ((1, 2, 3, 4, 5), date(2026, 4, 2), date(2027, 1, 2))
    assert timetables(day, time(1, 30)) == [days]


def test_taken_in_again_nothing_changes_not_even_on_a_later_day(day):
    running = Service(WORKDAYS, date(2026, 1, 1), date(2026, 12, 31))
    assert taken(day, at(8, running)).counts["new"] == 1
    assert timetables(day, time(8))[0][1] == TODAY
    later = taken(day, at(8, running), now=NOW + timedelta(days=40))
    assert later.counts == {"new": 0, "changed": 0, "same": 1}


def test_what_is_over_is_left_out(day):
    assert taken(day, at(8, Service(WORKDAYS, date(2025, 1, 1), date(2026, 2, 28)))).differences == ()


def test_a_feed_changes_what_counts_from_its_day_on(day):
    """The trade leaves at 16:00 on every day."""
    (difference,) = taken(day, at(16)).differences
    assert difference.kind == "changed"
    assert {one.field for one in difference.changes} == {
        "saturday", "sunday", "delay_hours_mean", "delay_hours_cv", "valid_until"
    }  # fmt: skip
    assert [begins for _, begins, _ in timetables(day, time(16))] == [date(2025, 1, 1), date(2026, 4, 1)]


def test_figures_that_nobody_said_are_those_of_the_carrier_on_this_route(day):
    taken(day, at(8, figures=Figures()))
    row = Timetable.objects.get(departs_at_local=time(8))
    assert (row.delay_hours_mean, row.delay_hours_cv) == (0.5, 0.8)


@pytest.mark.parametrize(
    ("departure", "name"),
    [(at(8, figures=Figures()), "delay_hours_mean"), (at(8, full=True), "seats_left")],
)
def test_figures_that_nobody_knows_are_asked_for(day, departure, name):
    day.parcel.delete()
    day.timetable.delete()
    with pytest.raises(Invalid) as refusal:
        taken(day, departure)
    assert refusal.value.problems[0].field == name


def test_one_that_leaves_when_full_needs_seats_and_riders_and_has_them(day):
    taken(day, at(7, full=True, figures=Figures(False, 0.1, 1.0, 12, 6.0)))
    row = Timetable.objects.get(departs_at_local=time(7))
    assert (row.leaves_when_full, row.seats_left, row.riders_per_hour) == (True, 12, 6.0)


def test_the_same_hour_in_two_ways_is_refused(day):
    with pytest.raises(Conflict, match="in another way"):
        taken(day, at(8), at(8, figures=Figures(False, 1.0, 1.0, None, None)))
    with pytest.raises(Conflict, match="in another way"):
        taken(day, at(8), at(8, full=True, figures=Figures(False, 0.1, 1.0, 12, 6.0)))


def test_two_services_of_one_hour_are_one_timetable(day):
    saturdays = Service(frozenset([5]), YEAR.first, YEAR.last)
    taken(day, at(8), at(8, saturdays))
    assert timetables(day, time(8)) == [((0, 1, 2, 3, 4, 5), date(2026, 4, 1), date(2027, 1, 1))]


def test_one_that_goes_on_has_no_end(day):
    taken(day, at(8, figures=Figures(True, 0.25, 0.5, None, None)))
    assert timetables(day, time(8))[0][2] is None


def test_a_dry_run_writes_nothing_and_a_strangers_carrier_is_not_there(day):
    assert taken(day, at(8), dry_run=True).counts["new"] == 1
    assert timetables(day, time(8)) == []
    with pytest.raises(NotFound):
        taken(day, at(8), by=day.stranger)
