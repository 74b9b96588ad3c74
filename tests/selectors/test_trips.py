"""What logged trips change of the next one."""

from datetime import timedelta

import numpy as np
import pytest

from coop.selectors.departure_slots import draws_of, rows_of
from coop.selectors.departures import departures_for
from coop.selectors.engine_inputs import HOUR, legs_of_journey
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.parcels import DEPARTS_AT, PartFactory, closed, departed, handed_over, lot_of, parcel_of
from tests.factories.scene import another_vehicle, trade
from tests.selectors.asking import question

pytestmark = pytest.mark.django_db
ONE_LEG = {
    "hours_mean": 10.0,
    "hours_floor": 8.0,
    "hours_cv": 0.3,
    "stop_hours_mean": 0.5,
    "stop_hours_cv": 0.3,
}


@pytest.fixture
def ours():
    return trade(CooperativeFactory(), leg=ONE_LEG)


def logged(trade, hours, *, weeks_before=1, **columns):
    """A parcel of a Monday past that was `hours` on the road."""
    departs_at = DEPARTS_AT - timedelta(weeks=weeks_before)
    parcel = parcel_of(trade, departs_at=departs_at, **columns)
    PartFactory(carton=parcel.cartons.get(), lot=lot_of(trade))
    departed(closed(parcel))
    arrived = parcel.departed_at + timedelta(hours=hours)
    return handed_over(parcel, arrived_at=arrived, handed_over_at=arrived + timedelta(hours=1))


def travel_of(trade):
    """Median and slow (95 of 100) hours to the buyer's door."""
    asked = question(trade)
    draws, _ = draws_of(asked, rows_of(asked), trade.timetable)
    return np.quantile(draws.travel, (0.5, 0.95)) / HOUR


def trips_counted(trade):
    return {departure.trips for departure in departures_for(question(trade))}


def test_without_a_logged_trip_the_figures_of_the_route_count(ours):
    parcel_of(ours, departs_at=DEPARTS_AT - timedelta(weeks=1))
    assert trips_counted(ours) == {0}


def test_slow_trips_make_the_next_one_slower_and_the_answer_says_on_how_many_it_rests(ours):
    before = travel_of(ours)
    for week in (1, 2, 3):
        logged(ours, 16, weeks_before=week)
    assert (travel_of(ours) > before).all()
    assert trips_counted(ours) == {3}


def test_many_trips_of_one_length_bring_the_median_near_to_it(ours):
    """200 trips against figures that are worth 10 leave a twentieth of the way, in the logarithm."""
    without = travel_of(ours)[0]
    for week in range(1, 201):
        logged(ours, 14, weeks_before=week)
    legs = legs_of_journey(ours.route.legs.all())
    floor, expected = legs[0].floor / HOUR, (legs[0].mean + legs[0].stop_mean) / HOUR
    assert expected < 14
    last_stretch = ours.buyer.last_stretch_hours_mean
    assert travel_of(ours)[0] == pytest.approx(14 + last_stretch, rel=0.05)
    assert without < floor + 1.2 * (expected - floor) + last_stretch


def test_one_trip_as_quick_as_expected_does_not_make_the_slow_ones_quicker(ours):
    slow = travel_of(ours)[1]
    logged(ours, 10.4)
    assert travel_of(ours)[1] >= slow * 0.999


def test_two_parcels_in_one_vehicle_are_one_trip(ours):
    logged(ours, 16)
    logged(ours, 15)
    assert trips_counted(ours) == {1}


def test_trips_of_another_carrier_or_cooperative_say_nothing(ours):
    stranger = trade(CooperativeFactory(), leg=ONE_LEG)
    logged(stranger, 16)
    logged(ours, 16, timetable=another_vehicle(ours, 6))
    before = {
        departure.trips
        for departure in departures_for(question(ours))
        if departure.slot.carrier == ours.carrier
    }
    assert before == {0}


def test_a_trip_quicker_than_the_floor_is_left_out(ours):
    logged(ours, 7.9)
    assert trips_counted(ours) == {0}


def test_figures_that_claim_to_know_the_road_exactly_still_learn(ours):
    ours.route.legs.update(hours_cv=0.0, stop_hours_cv=0.0)
    before = travel_of(ours)
    logged(ours, 16)
    assert (travel_of(ours) > before).all()
