from datetime import UTC, date, datetime, time

import pytest

from coop.errors import Invalid, NotFound
from coop.models import Timetable
from coop.selectors.parcel_judgement import judged_cartons
from coop.selectors.parcels import parcels_of, places_left
from coop.services.timetables import change_timetable
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.members import MemberFactory
from tests.factories.parcels import DEPARTS_AT, PartFactory, lot_of, parcel_of
from tests.factories.routes import RouteFactory
from tests.factories.scene import trade

pytestmark = pytest.mark.django_db
NOW, TODAY, MONDAY = datetime(2026, 3, 1, 8, tzinfo=UTC), date(2026, 3, 1), date(2026, 3, 2)
EVERY_DAY = range(7)


@pytest.fixture
def shore():
    """One vehicle at 16:00 on every day."""
    found = trade(CooperativeFactory())
    found.manager = MemberFactory(cooperative=found.cooperative, role="manager")
    return found


@pytest.fixture
def change(shore):
    way = {"by": shore.manager, "carrier": shore.carrier, "route": shore.route, "now": NOW}
    hours = {"departs_at_local": time(16), "delay_hours_mean": 0.5, "delay_hours_cv": 0.8}
    return lambda **more: change_timetable(
        **{**way, **hours, "valid_from": MONDAY, "weekdays": EVERY_DAY, **more}
    )


def test_its_days_change_from_a_day_on(change, shore):
    new = change(weekdays=[0, 2, 4])
    shore.timetable.refresh_from_db()
    assert (new.weekdays, shore.timetable.weekdays) == ((0, 2, 4), tuple(EVERY_DAY))
    assert (shore.timetable.valid_until, new.confirmed_on) == (MONDAY, TODAY)


def test_another_hour_is_another_row_and_the_same_is_nothing_new(change, shore):
    assert change() == shore.timetable
    change(departs_at_local=time(9))
    assert Timetable.objects.of(shore.cooperative).on(MONDAY).count() == 2


def test_a_parcel_on_the_row_that_was_replaced_keeps_its_place_and_its_departure(change, shore):
    parcel = parcel_of(shore)
    part = PartFactory(carton=parcel.cartons.get(), lot=lot_of(shore, mass_kg=80.0))
    left = places_left(shore.timetable, DEPARTS_AT)
    new = change(delay_hours_mean=0.75)
    assert places_left(new, DEPARTS_AT) == left
    found = judged_cartons(parcels_of(shore.cooperative))[part.carton_id]
    assert found.reason != "departure_gone"
    assert found.departure.slot.timetable == new


def test_a_departure_that_is_no_longer_in_the_timetable_is_gone(change, shore):
    part = PartFactory(carton=parcel_of(shore).cartons.get(), lot=lot_of(shore, mass_kg=80.0))
    change(weekdays=[3])
    assert judged_cartons(parcels_of(shore.cooperative))[part.carton_id].reason == "departure_gone"


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"weekdays": [7]}, "weekdays"),
        ({"weekdays": []}, "__all__"),
        ({"leaves_when_full": True}, "__all__"),
        ({"delay_hours_mean": -1}, "delay_hours_mean"),
        ({"valid_from": date(2026, 2, 28)}, "valid_from"),
    ],
)
def test_what_cannot_be_is_refused(change, wrong, field):
    with pytest.raises(Invalid) as refusal:
        change(**wrong)
    assert refusal.value.problems[0].field == field


def test_a_route_of_strangers_is_not_known(change):
    with pytest.raises(NotFound):
        change(route=RouteFactory())
