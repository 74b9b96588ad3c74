"""What the database holds of the fish in a carton: it fits, it is there, and it goes the carton's way."""

import pytest

from coop.models.parcels import rounded_kg
from tests.factories.lots import LotFactory
from tests.factories.parcels import ParcelCartonFactory, PartFactory
from tests.models.refusals import change, refused

pytestmark = pytest.mark.django_db


@pytest.fixture
def part():
    return PartFactory()


@pytest.fixture
def parcel(part):
    return part.carton.parcel


def beside(part, **lot):
    """Another lot that goes the same way."""
    parcel = part.carton.parcel
    return LotFactory(cooperative=parcel.cooperative, route=parcel.route, buyer=parcel.buyer, **lot)


def test_parts_fit_their_carton(part):
    room = part.carton.capacity_kg - part.mass_kg
    with refused("part_fits_its_carton"):
        PartFactory(carton=part.carton, lot=beside(part, mass_kg=room + 0.001))
    second = PartFactory(carton=part.carton, lot=beside(part, mass_kg=room - 1, may_be_split=True))
    change(LotFactory(), mass_kg=room)
    with refused("part_fits_its_carton|part_within_its_lot"):
        change(second, mass_kg=room + 0.001)
    with refused("carton_holds_its_parts"):
        change(part.carton, capacity_kg=part.carton.capacity_kg - 1.001)
    change(part.carton, capacity_kg=part.carton.capacity_kg - 1)


def test_tenths_that_no_computer_adds_up_exactly_still_fit():
    carton = ParcelCartonFactory(capacity_kg=0.3)
    parcel = carton.parcel
    way = {"cooperative": parcel.cooperative, "route": parcel.route, "buyer": parcel.buyer}
    for mass in (0.1, 0.2):
        PartFactory(carton=carton, lot=LotFactory(mass_kg=mass, **way))
    assert carton.mass_kg == rounded_kg((0.1, 0.2)) == 0.3
    assert carton.room_kg == 0


def test_a_lot_is_not_placed_twice_over(part):
    lot = beside(part, mass_kg=10.0, may_be_split=True)
    PartFactory(carton=part.carton, lot=lot, mass_kg=6.0)
    other = ParcelCartonFactory(parcel=part.carton.parcel, position=2)
    with refused("part_within_its_lot"):
        PartFactory(carton=other, lot=lot, mass_kg=4.001)
    rest = PartFactory(carton=other, lot=lot, mass_kg=3.0)
    with refused("part_within_its_lot"):
        change(rest, mass_kg=4.001)
    change(rest, mass_kg=3.5)
    with refused("coop_part.carton_id|part_once_in_a_carton"):
        PartFactory(carton=other, lot=lot, mass_kg=0.001)


def test_a_lot_is_split_by_consent_only(part):
    whole = beside(part, mass_kg=10.0)
    with refused("part_not_split_without_consent"):
        PartFactory(carton=part.carton, lot=whole, mass_kg=9.0)
    placed = PartFactory(carton=part.carton, lot=whole)
    with refused("part_not_split_without_consent"):
        change(placed, mass_kg=9.0)
    with refused("part_not_split_without_consent|part_within_its_lot"):
        PartFactory(carton=ParcelCartonFactory(parcel=part.carton.parcel, position=2), lot=whole)


def test_a_part_goes_the_way_of_its_parcel(part):
    stranger = LotFactory()
    with refused("part_lot_of_its_cooperative|part_goes_another_way"):
        PartFactory(carton=part.carton, lot=stranger)
    with refused("part_goes_another_way"):
        PartFactory(carton=part.carton, lot=LotFactory(cooperative=part.lot.cooperative))


def test_mass_and_room_of_a_parcel_count_open_cartons_only(part, parcel):
    ParcelCartonFactory(parcel=parcel, position=2, capacity_kg=50.0)
    assert (parcel.mass_kg, parcel.room_kg) == (20.0, 130.5)
    change(part.carton, closed_at=parcel.closes_at, closed_by=parcel.opened_by, chance_hard=0.97)
    parcel.refresh_from_db()
    assert (parcel.mass_kg, parcel.room_kg) == (20.0, 50.0)
