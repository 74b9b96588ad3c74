import pytest

from coop.services.closing import close_carton
from coop.services.parcels import add_carton, drop_carton, join_parcel, leave_parcel
from tests.services.packing_day import CLOSES_AT, NOW, lot, packing_day

pytestmark = pytest.mark.django_db


@pytest.fixture
def half_closed():
    """The first of two cartons is closed; the lot of the second was taken out again."""
    day = packing_day()
    parcel = add_carton(by=day.packer, parcel=day.parcel)
    for position in (1, 2):
        day.lot = lot(day, mass_kg=60.0)
        parcel = join_parcel(by=day.owner, parcel=parcel, lot=day.lot, carton=position, now=NOW)
    assert close_carton(by=day.packer, carton=parcel.cartons.all()[0], now=CLOSES_AT).state == "open"
    day.parcel = leave_parcel(by=day.owner, parcel=parcel, lot=day.lot)
    return day


def test_a_parcel_waits_for_an_empty_carton_that_somebody_may_still_fill(half_closed):
    assert half_closed.parcel.state == "open"
    join_parcel(by=half_closed.owner, parcel=half_closed.parcel, lot=half_closed.lot, now=NOW)


def test_a_parcel_closes_when_its_last_open_carton_is_dropped(half_closed):
    parcel = drop_carton(by=half_closed.packer, parcel=half_closed.parcel, position=2, now=CLOSES_AT)
    assert (parcel.state, parcel.closed_at) == ("closed", CLOSES_AT)
    assert [carton.position for carton in parcel.cartons.all()] == [1]


def test_a_parcel_of_which_nothing_is_closed_stays_open():
    day = packing_day()
    add_carton(by=day.packer, parcel=day.parcel)
    assert drop_carton(by=day.packer, parcel=day.parcel, position=2, now=NOW).state == "open"
