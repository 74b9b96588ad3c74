"""What is offered to somebody for whom there is no room."""

from datetime import timedelta

import pytest

from coop.selectors.next_departure import next_offer
from coop.selectors.parcels import parcel_named
from tests.factories.parcels import DEPARTS_AT, ParcelCartonFactory, PartFactory, parcel_of
from tests.factories.scene import another_vehicle
from tests.services.packing_day import LONG_LEG, NOW, lot, packing_day

pytestmark = pytest.mark.django_db
DAY, HOUR = timedelta(days=1), timedelta(hours=1)


def offered(day, row=None, *, now=NOW):
    parcel = parcel_named(day.cooperative, day.parcel.uuid)
    row = row or lot(day, mass_kg=40.0)
    return next_offer(parcel, row, row.mass_kg, now=now)


def full(day, **columns):
    """A parcel with no room at all."""
    parcel = parcel_of(day, **columns)
    PartFactory(carton=parcel.cartons.get(), lot=lot(day, mass_kg=100.5))
    return parcel


def test_the_next_departure_with_places_is_offered():
    day = packing_day()
    offer = offered(day)
    assert (offer.departs_at, offer.parcel) == (DEPARTS_AT + DAY, None)
    assert offer.key == f"{day.timetable.pk}-20260303-{day.design.slug}"
    taken = full(day, departs_at=DEPARTS_AT + DAY)
    for position in range(2, day.carrier.carton_places + 1):
        ParcelCartonFactory(parcel=taken, position=position, capacity_kg=10.0)
    assert offered(day).departs_at == DEPARTS_AT + 2 * DAY


def test_another_vehicle_of_the_same_evening_comes_first():
    day = packing_day()
    evening = another_vehicle(day, 18)
    assert offered(day).carrier == evening.carrier


def test_a_parcel_that_is_open_and_has_room_comes_first():
    day = packing_day()
    full(day, departs_at=DEPARTS_AT + DAY)
    waiting = parcel_of(day, departs_at=DEPARTS_AT + DAY)
    assert offered(day).parcel == waiting


def test_a_lot_that_is_ready_late_is_offered_a_departure_that_waits_for_it():
    day = packing_day()
    assert offered(day, lot(day, ready_at=DEPARTS_AT + DAY)).departs_at == DEPARTS_AT + 2 * DAY
    assert offered(day, now=DEPARTS_AT + 2 * DAY).departs_at == DEPARTS_AT + 3 * DAY


def test_nothing_is_offered_that_is_never_safe_or_too_late():
    day = packing_day(leg=LONG_LEG)
    assert offered(day, lot(day, start_temperature_c=-6.0)) is None
    assert offered(day, lot(day, deliver_by=DEPARTS_AT + DAY + HOUR)) is None
    assert offered(day, now=DEPARTS_AT + 30 * DAY) is None


def test_little_fish_is_offered_a_departure_on_which_a_full_carton_is_safe():
    """20 kg alone go soft on a day's journey; shared they do not."""
    day = packing_day(leg=LONG_LEG)
    assert offered(day, lot(day, mass_kg=20.0)).departs_at == DEPARTS_AT + DAY


def test_without_a_climate_nothing_is_offered():
    day = packing_day()
    day.route.origin.climates.filter(month=3).delete()
    assert offered(day) is None
