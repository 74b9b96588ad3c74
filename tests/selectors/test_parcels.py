import pytest

from coop.errors import NotFound
from coop.selectors.parcels import (
    capacity_kg,
    carton_at,
    left_too_late,
    open_parcels_between,
    parcel_named,
    parcels_of,
    places_left,
    places_taken_between,
)
from coop.selectors.timetables import vehicle_key
from tests.factories.cartons import CartonDesignFactory
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.parcels import (
    DEPARTS_AT,
    ParcelCartonFactory,
    ParcelFactory,
    PartFactory,
    called_off,
    closed,
    departed,
)
from tests.models.refusals import change, twin
from tests.selectors.queries import same_for_many

pytestmark = pytest.mark.django_db


def test_a_parcel_is_found_in_its_own_cooperative_only():
    carton = ParcelCartonFactory(position=3)
    parcel = carton.parcel
    assert parcel_named(parcel.cooperative, parcel.uuid) == parcel
    with pytest.raises(NotFound):
        parcel_named(CooperativeFactory(), parcel.uuid)
    assert carton_at(parcel, 3) == carton
    with pytest.raises(NotFound, match="no carton 1"):
        carton_at(parcel, 1)


def test_every_carton_takes_a_place_whatever_lies_in_it():
    parcel = ParcelFactory(timetable__carrier__carton_places=4)
    other = ParcelFactory(cooperative=parcel.cooperative, timetable=parcel.timetable, route=parcel.route)
    for position in (1, 2):
        PartFactory(carton=ParcelCartonFactory(parcel=parcel, position=position))
    ParcelCartonFactory(parcel=other)
    ParcelCartonFactory(
        parcel__timetable=parcel.timetable,
        parcel__cooperative=parcel.cooperative,
        parcel__departs_at=DEPARTS_AT.replace(day=3),
    )
    assert places_left(parcel.timetable, DEPARTS_AT) == 1
    taken = places_taken_between(parcel.cooperative, begins_at=DEPARTS_AT, ends_at=DEPARTS_AT)
    assert taken == {vehicle_key(parcel.timetable, DEPARTS_AT): 3}


def test_cartons_on_a_timetable_that_was_replaced_keep_their_places():
    carton = ParcelCartonFactory(parcel__timetable__carrier__carton_places=4)
    old = carton.parcel.timetable
    change(old, valid_until=DEPARTS_AT.date())
    new = twin(old, valid_from=DEPARTS_AT.date(), valid_until=None)
    assert places_left(new, DEPARTS_AT) == places_left(old, DEPARTS_AT) == 3
    taken = places_taken_between(new.cooperative, begins_at=DEPARTS_AT, ends_at=DEPARTS_AT)
    assert taken[vehicle_key(new, DEPARTS_AT)] == 1


def test_a_parcel_that_was_called_off_gives_its_places_back():
    parcel = PartFactory(carton__parcel__timetable__carrier__carton_places=4).carton.parcel
    between = {"begins_at": DEPARTS_AT, "ends_at": DEPARTS_AT}
    closed(parcel)
    assert places_left(parcel.timetable, DEPARTS_AT) == 3
    called_off(parcel)
    assert places_left(parcel.timetable, DEPARTS_AT) == 4
    assert places_taken_between(parcel.cooperative, **between) == {}


def test_open_parcels_of_a_way_are_found_in_the_order_of_departure():
    late = ParcelFactory(departs_at=DEPARTS_AT.replace(day=4))
    way = {"cooperative": late.cooperative, "route": late.route, "buyer": late.buyer}
    first = ParcelFactory(**way)
    closed(PartFactory(carton__parcel=ParcelFactory(**way)).carton.parcel)
    ParcelFactory(cooperative=late.cooperative)
    span = {"begins_at": DEPARTS_AT, "ends_at": DEPARTS_AT.replace(day=4)}
    assert list(open_parcels_between(*way.values(), **span)) == [first, late]


def test_capacity_is_rounded_down_to_a_tenth():
    # 0.79 × 0.49 × 0.49 m inside the walls at 530 kg/m³: 100.53 kg.
    assert capacity_kg(CartonDesignFactory()) == 100.5


def test_a_carton_left_too_late_after_its_last_safe_hour():
    parcel = PartFactory().carton.parcel
    assert left_too_late(parcel) == []
    closed(parcel, latest_safe_departure_at=DEPARTS_AT)
    assert left_too_late(departed(parcel)) == []
    other = PartFactory().carton.parcel
    closed(other, latest_safe_departure_at=DEPARTS_AT)
    late = departed(other, departed_at=DEPARTS_AT.replace(hour=15))
    assert left_too_late(late) == list(other.cartons.all())


def test_many_parcels_take_as_many_questions_as_one():
    cooperative = CooperativeFactory()

    def read():
        for parcel in parcels_of(cooperative):
            assert parcel.timetable.carrier.name
            assert [part.lot.member.name for carton in parcel.cartons.all() for part in carton.parts.all()]

    same_for_many(lambda: PartFactory(carton__parcel__cooperative=cooperative), read, most=6)
