"""Which cartons take a lot: the services' tests say what is refused, these which carton is chosen."""

import pytest

from coop.errors import Conflict, NoRoom
from coop.selectors.parcels import parcel_named
from coop.selectors.placement import placement_of, room_for
from tests.factories.parcels import ParcelCartonFactory, PartFactory
from tests.services.packing_day import CLOSES_AT, lot, packing_day

pytestmark = pytest.mark.django_db


@pytest.fixture
def day():
    """Three cartons with 60, 30 and no kilograms in them."""
    found = packing_day()
    PartFactory(carton=found.parcel.cartons.get(), lot=lot(found, mass_kg=60.0))
    second = ParcelCartonFactory(parcel=found.parcel, position=2)
    PartFactory(carton=second, lot=lot(found, mass_kg=30.0))
    ParcelCartonFactory(parcel=found.parcel, position=3)
    found.parcel = parcel_named(found.cooperative, found.parcel.uuid)
    return found


def placed(day, mass_kg, *, position=None, **columns):
    row = lot(day, mass_kg=mass_kg, **columns)
    pieces = placement_of(day.parcel, row, mass_kg, position=position)
    return {piece.carton.position: piece.mass_kg for piece in pieces}


def test_the_fullest_carton_that_has_room_is_chosen(day):
    assert placed(day, 40.0) == {1: 40.0}
    assert placed(day, 41.0) == {2: 41.0}
    assert placed(day, 71.0) == {3: 71.0}
    assert placed(day, 100.5) == {3: 100.5}


def test_the_carton_that_is_named_is_taken_or_refuses(day):
    assert placed(day, 40.0, position=3) == {3: 40.0}
    with pytest.raises(NoRoom) as refusal:
        placed(day, 41.0, position=1)
    assert refusal.value.room_kg == 40.5


def test_a_lot_that_may_be_split_fills_the_roomiest_first_and_is_whole_where_it_can_be(day):
    assert placed(day, 100.0, may_be_split=True) == {3: 100.0}
    assert placed(day, 150.0, may_be_split=True) == {3: 100.5, 2: 49.5}
    assert placed(day, 211.5, may_be_split=True) == {3: 100.5, 2: 70.5, 1: 40.5}
    for may_be_split, room in ((True, 211.5), (False, 100.5)):
        with pytest.raises(NoRoom) as refusal:
            placed(day, 212.0, may_be_split=may_be_split)
        assert refusal.value.room_kg == room


def test_a_closed_carton_takes_nothing(day):
    first = day.parcel.cartons.all()[0]
    first.closed_at, first.closed_by, first.chance_hard = CLOSES_AT, day.packer, 0.97
    first.save()
    day.parcel = parcel_named(day.cooperative, day.parcel.uuid)
    assert placed(day, 20.0) == {2: 20.0}
    with pytest.raises(Conflict, match="Carton 1 of this parcel is closed"):
        placed(day, 20.0, position=1)


def test_no_carton_has_no_room():
    day = packing_day()
    assert room_for([], lot(day)) == 0
