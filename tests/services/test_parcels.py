"""Opening, joining and leaving a parcel: who, how much, where to, and what is refused in which words."""

from datetime import date, timedelta
from uuid import uuid4

import pytest

from coop.errors import Conflict, Invalid, NotAllowed, NotFound
from coop.models import Parcel, Part
from coop.services.parcels import (
    add_carton,
    drop_carton,
    drop_parcel,
    join_parcel,
    leave_parcel,
    open_parcel,
)
from tests.factories.buyers import BuyerFactory
from tests.factories.parcels import DEPARTS_AT, closed
from tests.services.packing_day import CLOSES_AT, NOW, lot, masses, packing_day

pytestmark = pytest.mark.django_db
MONDAY = date(2026, 3, 2)
HOUR = timedelta(hours=1)


@pytest.fixture
def day():
    return packing_day()


def opened(day, **changes):
    wanted = {
        "by": day.packer,
        "timetable": day.timetable,
        "date": MONDAY,
        "design": day.design,
        "buyer": day.buyer,
        "now": NOW,
    }
    return open_parcel(**(wanted | changes))


def joined(day, row, by=None, **options):
    return join_parcel(by=by or row.member, parcel=day.parcel, lot=row, **({"now": NOW} | options))


def test_a_parcel_opens_on_a_departure_with_empty_cartons(day):
    parcel = opened(day, cartons=3)
    assert (parcel.state, parcel.departs_at, parcel.closes_at) == ("open", DEPARTS_AT, CLOSES_AT)
    assert (parcel.route, parcel.opened_by, parcel.opened_at) == (day.route, day.packer, NOW)
    assert masses(parcel) == {1: 0, 2: 0, 3: 0}
    # 0.79 × 0.49 × 0.49 m inside at 530 kg/m³ is 100.53 kg; a tenth is rounded down.
    assert {carton.capacity_kg for carton in parcel.cartons.all()} == {100.5}


def test_the_same_id_again_answers_with_the_first_parcel(day):
    name = uuid4()
    assert opened(day, uuid=name) == opened(day, uuid=name, cartons=2)
    assert Parcel.objects.filter(uuid=name).count() == 1
    with pytest.raises(Conflict):
        opened(day, uuid=name, by=day.manager)


def test_a_vehicle_takes_no_more_cartons_than_it_has_places(day):
    # Six places, and one carton stands there already.
    with pytest.raises(Conflict, match="5 places"):
        opened(day, cartons=6)
    parcel = opened(day, cartons=5)
    with pytest.raises(Conflict, match="0 places"):
        opened(day)
    with pytest.raises(Conflict, match="0 places"):
        add_carton(by=day.packer, parcel=parcel)
    drop_carton(by=day.packer, parcel=parcel, position=2, now=NOW)
    assert masses(add_carton(by=day.packer, parcel=parcel)) == {1: 0, 3: 0, 4: 0, 5: 0, 6: 0}
    assert opened(day, date=MONDAY + timedelta(days=1), cartons=6).cartons.count() == 6


@pytest.mark.parametrize(
    ("field", "changes"),
    [
        ("date", {"date": date(2026, 2, 28)}),
        ("date", {"date": date(2027, 3, 2)}),
        ("date", {"date": date(2024, 12, 31)}),
        ("date", {"now": CLOSES_AT + timedelta(minutes=1)}),
        ("cartons", {"cartons": 0}),
        ("cartons", {"cartons": -1}),
    ],
)
def test_a_departure_that_is_over_or_none_is_refused(day, field, changes):
    with pytest.raises(Invalid) as refusal:
        opened(day, **changes)
    assert refusal.value.problems[0].field == field


def test_a_day_on_which_nothing_leaves_and_a_buyer_elsewhere_are_refused(day):
    day.timetable.monday = False
    day.timetable.save()
    with pytest.raises(Invalid, match="no day"):
        opened(day)
    with pytest.raises(Invalid, match="is not at"):
        opened(day, date=MONDAY + timedelta(days=1), buyer=BuyerFactory(cooperative=day.cooperative))


def test_only_who_packs_opens_and_fits_out_a_parcel(day):
    for act in (
        lambda: opened(day, by=day.owner),
        lambda: add_carton(by=day.owner, parcel=day.parcel),
        lambda: drop_carton(by=day.owner, parcel=day.parcel, position=1),
        lambda: drop_parcel(by=day.owner, parcel=day.parcel),
    ):
        with pytest.raises(NotAllowed, match="Only a packer or a manager"):
            act()


def test_what_belongs_to_another_cooperative_is_not_there(day):
    mine, other = lot(day), packing_day()
    for act in (
        lambda: opened(day, by=day.stranger),
        lambda: opened(day, timetable=other.timetable),
        lambda: opened(day, buyer=other.buyer),
        lambda: opened(day, design=other.design),
        lambda: joined(day, mine, by=day.stranger),
        lambda: join_parcel(by=day.owner, parcel=other.parcel, lot=mine, now=NOW),
        lambda: joined(day, lot(other), by=day.packer),
        lambda: leave_parcel(by=day.stranger, parcel=day.parcel, lot=mine),
        lambda: add_carton(by=day.stranger, parcel=day.parcel),
        lambda: drop_parcel(by=day.stranger, parcel=day.parcel),
    ):
        with pytest.raises(NotFound):
            act()
    assert not Part.objects.exists()


def test_a_lot_leaves_an_open_carton_and_stays_in_a_closed_one(day):
    mine, other = lot(day), lot(day)
    joined(day, mine)
    with pytest.raises(NotFound):
        leave_parcel(by=day.owner, parcel=day.parcel, lot=other)
    assert masses(leave_parcel(by=day.owner, parcel=day.parcel, lot=mine)) == {1: 0}
    joined(day, mine)
    day.parcel.refresh_from_db()
    closed(day.parcel)
    with pytest.raises(Conflict, match="never changes"):
        leave_parcel(by=day.owner, parcel=day.parcel, lot=mine)
    for act in (
        lambda: joined(day, other),
        lambda: add_carton(by=day.packer, parcel=day.parcel),
        lambda: drop_carton(by=day.packer, parcel=day.parcel, position=1),
        lambda: drop_parcel(by=day.packer, parcel=day.parcel),
    ):
        with pytest.raises(Conflict, match="closed"):
            act()


def test_cartons_and_parcels_are_given_up_only_without_fish(day):
    joined(day, lot(day))
    add_carton(by=day.packer, parcel=day.parcel)
    with pytest.raises(Conflict, match="holds fish"):
        drop_carton(by=day.packer, parcel=day.parcel, position=1)
    assert masses(drop_carton(by=day.packer, parcel=day.parcel, position=2)) == {1: 20.0}
    with pytest.raises(Conflict, match="holds fish"):
        drop_parcel(by=day.packer, parcel=day.parcel)
    empty = opened(day)
    with pytest.raises(Conflict, match="at least one"):
        drop_carton(by=day.packer, parcel=empty, position=1)
    drop_parcel(by=day.packer, parcel=empty)
    assert not Parcel.objects.filter(pk=empty.pk).exists()
