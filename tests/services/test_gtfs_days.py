"""Days of a feed as dated weekdays, held against a plain walk through the calendar of the GTFS reference."""

from datetime import date, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coop.services.gtfs_days import Period, Service, periods

MONDAY = date(2026, 3, 2)
WORKDAYS = frozenset(range(5))
DAY = timedelta(days=1)


def days(count):
    return MONDAY + count * DAY


def runs(service, day):
    """calendar_dates goes before calendar: exception_type 1 adds, 2 removes."""
    if day in service.added:
        return True
    if day in service.removed or service.first is None:
        return False
    return service.first <= day <= service.last and day.weekday() in service.weekdays


def said(found, day):
    return any(one.begins <= day < one.ends and day.weekday() in one.weekdays for one in found)


def test_a_calendar_is_one_period_whose_last_day_counts():
    found = periods([Service(WORKDAYS, MONDAY, days(30))])
    assert found == [Period(MONDAY, days(31), WORKDAYS)]


def test_a_day_taken_out_makes_a_gap_and_a_day_put_in_a_period_of_its_own():
    service = Service(WORKDAYS, MONDAY, days(13), added=frozenset([days(5)]), removed=frozenset([days(2)]))
    assert periods([service]) == [
        Period(MONDAY, days(2), WORKDAYS),
        Period(days(3), days(5), WORKDAYS),
        Period(days(5), days(6), frozenset([5])),
        Period(days(6), days(14), WORKDAYS),
    ]


def test_dates_alone_become_as_few_periods_as_say_the_same():
    """Mondays and Wednesdays of four weeks, then Fridays."""
    named = {days(7 * week + day) for week in range(4) for day in (0, 2)}
    later = {days(28 + 7 * week + 4) for week in range(3)}
    found = periods([Service(added=frozenset(named | later))])
    assert [one.weekdays for one in found] == [frozenset([0, 2]), frozenset([4])]


def test_two_services_at_one_hour_run_together():
    found = periods([Service(WORKDAYS, MONDAY, days(27)), Service(frozenset([5]), days(7), days(13))])
    assert [one.weekdays for one in found] == [WORKDAYS, WORKDAYS | {5}, WORKDAYS]


def test_a_service_that_adds_nothing_cuts_nothing():
    found = periods([Service(WORKDAYS, MONDAY, days(27)), Service(frozenset([0]), days(7), days(13))])
    assert found == [Period(MONDAY, days(28), WORKDAYS)]


def test_one_that_ends_where_the_next_begins_stays_two():
    found = periods([Service(WORKDAYS, MONDAY, days(6)), Service(WORKDAYS, days(7), days(13))])
    assert found == [Period(MONDAY, days(7), WORKDAYS), Period(days(7), days(14), WORKDAYS)]


def test_after_midnight_everything_is_a_day_later():
    service = Service(frozenset([6]), MONDAY, days(6), frozenset([days(1)]), frozenset([days(6)])).moved(1)
    assert service == Service(frozenset([0]), days(1), days(7), frozenset([days(2)]), frozenset([days(7)]))


def test_nothing_runs_never():
    assert periods([]) == periods([Service()]) == []
    assert periods([Service(frozenset(), MONDAY, days(6))]) == []


numbers = st.frozensets(st.integers(0, 60).map(days), max_size=6)
spans = st.tuples(st.integers(0, 40), st.integers(0, 40)).map(lambda pair: (days(min(pair)), days(max(pair))))


@st.composite
def services(draw):
    added, removed = draw(numbers), draw(numbers)
    if draw(st.booleans()):
        return Service(added=added)
    first, last = draw(spans)
    return Service(draw(st.frozensets(st.integers(0, 6))), first, last, added, removed - added)


@given(st.lists(services(), min_size=1, max_size=3))
def test_they_say_the_same_on_every_day_as_the_feed(found):
    told = periods(found)
    for day in (days(number) for number in range(-10, 80)):
        assert said(told, day) == any(runs(service, day) for service in found), day
    assert all(before.ends <= after.begins for before, after in pairwise(told))


@pytest.mark.parametrize("step", [0, 1, 2, 7])
def test_moved_days_are_the_same_days_later(step):
    service = Service(WORKDAYS, MONDAY, days(20), frozenset([days(5)]), frozenset([days(1)]))
    moved = periods([service.moved(step)])
    assert all(said(moved, days(n + step)) == runs(service, days(n)) for n in range(-5, 40))
