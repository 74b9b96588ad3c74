import pytest
from django.core.exceptions import ValidationError

from coop.models.timetables import WEEKDAYS
from tests.factories.timetables import FillingTimetableFactory, TimetableFactory
from tests.models.refusals import change, refused, twin

pytestmark = pytest.mark.django_db


def test_one_that_leaves_on_no_day_is_refused():
    timetable = TimetableFactory()
    never = dict.fromkeys(WEEKDAYS, False)
    with refused("timetable_runs_on_some_day"):
        change(timetable, **never)
    change(timetable, **{**never, "sunday": True})


@pytest.mark.parametrize("column", ["seats_left", "riders_per_hour"])
def test_one_that_leaves_when_full_needs_seats_and_riders(column):
    timetable = FillingTimetableFactory()
    with refused("timetable_filling_knows_seats_and_riders"):
        change(timetable, **{column: None})
    change(timetable, leaves_when_full=False, **{column: None})


def test_weekdays_count_from_monday():
    timetable = TimetableFactory.build(tuesday=False, saturday=False)
    assert timetable.weekdays == (0, 2, 3, 4, 6)


def test_one_carrier_leaves_at_two_hours_of_a_day():
    timetable = TimetableFactory()
    evening = twin(timetable, departs_at_local="20:00")
    with refused("timetable_overlap"):
        change(evening, departs_at_local=timetable.departs_at_local)


def test_the_form_says_which_one_it_meets():
    timetable = TimetableFactory(valid_until=None)
    again = TimetableFactory.build(
        cooperative=timetable.cooperative, carrier=timetable.carrier, route=timetable.route
    )
    with pytest.raises(ValidationError, match="2025-01-01 and goes on: change that one first"):
        again.full_clean()
