from datetime import date

import pytest

from coop.selectors.timetables import timetables_between, timetables_of
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.timetables import TimetableFactory
from tests.selectors.queries import same_for_many

pytestmark = pytest.mark.django_db

JANUARY, JULY = date(2026, 1, 1), date(2026, 7, 1)


def test_timetables_come_with_carrier_and_route_in_one_question():
    cooperative = CooperativeFactory()
    same_for_many(
        lambda: TimetableFactory(cooperative=cooperative),
        lambda: [(row.carrier.name, row.route.name) for row in timetables_of(cooperative)],
        most=1,
    )


def test_a_stranger_sees_none_of_it():
    TimetableFactory()
    assert not timetables_of(CooperativeFactory()).exists()


@pytest.mark.parametrize(
    ("first_day", "last_day", "is_found"),
    [
        (date(2025, 12, 1), date(2025, 12, 31), False),
        (date(2025, 12, 1), JANUARY, True),
        (date(2026, 6, 30), JULY, True),
        (JULY, date(2026, 8, 1), False),
        (date(2025, 1, 1), date(2027, 1, 1), True),
    ],
)
def test_one_that_counts_on_some_day_between_is_found(first_day, last_day, is_found):
    timetable = TimetableFactory(valid_from=JANUARY, valid_until=JULY)
    TimetableFactory(cooperative=timetable.cooperative)
    found = timetables_between(timetable.route, first_day, last_day)
    assert list(found) == ([timetable] if is_found else [])


def test_an_open_end_goes_on():
    timetable = TimetableFactory(valid_from=JANUARY)
    assert list(timetables_between(timetable.route, date(2090, 1, 1), date(2090, 1, 2))) == [timetable]
