"""Who joins a parcel with how much, where it lies then, and what is refused in which words."""

import math
from datetime import date, timedelta

import pytest

from coop.errors import Conflict, Invalid, NoRoom, NotAllowed, NotFound, NotSafe
from coop.models import Part
from coop.services.lots import withdraw_lot
from coop.services.parcels import (
    add_carton,
    join_parcel,
    leave_parcel,
)
from tests.factories.buyers import BuyerFactory
from tests.factories.parcels import DEPARTS_AT
from tests.factories.separations import SeparationFactory
from tests.factories.species import SpeciesFactory
from tests.services.packing_day import CLOSES_AT, LONG_LEG, NOW, lot, masses, packing_day

pytestmark = pytest.mark.django_db
MONDAY = date(2026, 3, 2)
HOUR = timedelta(hours=1)


@pytest.fixture
def day():
    return packing_day()


def joined(day, row, by=None, **options):
    return join_parcel(by=by or row.member, parcel=day.parcel, lot=row, **({"now": NOW} | options))


def test_members_fill_a_carton_together(day):
    for mass, member in ((20.0, day.owner), (35.0, day.fellow), (45.0, day.packer)):
        parcel = joined(day, lot(day, member, mass_kg=mass))
    assert masses(parcel) == {1: 100.0}
    assert parcel.room_kg == 0.5


def test_a_member_places_her_own_fish_and_a_packer_that_of_anybody(day):
    mine = lot(day)
    with pytest.raises(NotAllowed):
        joined(day, mine, by=day.fellow)
    assert masses(joined(day, mine, by=day.packer)) == {1: 20.0}
    with pytest.raises(NotAllowed):
        leave_parcel(by=day.fellow, parcel=day.parcel, lot=mine)


def test_who_finds_no_room_hears_what_is_left_and_which_departure_comes_next(day):
    joined(day, lot(day, mass_kg=80.0))
    with pytest.raises(NoRoom) as refusal:
        joined(day, lot(day, day.fellow, mass_kg=30.0))
    full = refusal.value
    assert full.room_kg == 20.5
    assert "20.5 kg" in full.problems[0].problem
    assert "consent" in full.problems[0].right
    assert full.offer.departs_at == DEPARTS_AT + timedelta(days=1)
    assert f"{full.offer.carrier}, 2026-03-03 16:00" in full.message


def test_a_lot_is_put_into_the_fullest_carton_that_has_room_for_all_of_it(day):
    add_carton(by=day.packer, parcel=day.parcel)
    joined(day, lot(day, mass_kg=60.0), carton=2)
    assert masses(joined(day, lot(day, mass_kg=40.0))) == {1: 0, 2: 100.0}
    assert masses(joined(day, lot(day, mass_kg=40.0))) == {1: 40.0, 2: 100.0}


def test_a_lot_is_split_over_cartons_only_where_its_owner_agrees(day):
    add_carton(by=day.packer, parcel=day.parcel)
    for position in (1, 2):
        joined(day, lot(day, mass_kg=70.0), carton=position)
    with pytest.raises(NoRoom) as refusal:
        joined(day, lot(day, mass_kg=50.0))
    assert refusal.value.room_kg == 30.5
    mine = lot(day, mass_kg=50.0, may_be_split=True)
    parcel = joined(day, mine)
    assert masses(parcel) == {1: 100.5, 2: 89.5}
    assert sorted(part.mass_kg for part in mine.parts.all()) == [19.5, 30.5]
    with pytest.raises(NoRoom) as refusal:
        joined(day, lot(day, mass_kg=50.0, may_be_split=True))
    assert refusal.value.room_kg == 11.0


def test_part_of_a_lot_joins_only_where_its_owner_agrees(day):
    whole, divisible = lot(day), lot(day, may_be_split=True)
    with pytest.raises(Invalid, match="whole"):
        joined(day, whole, mass_kg=5.0)
    joined(day, divisible, mass_kg=5.0)
    # More of the same lot in the same carton is one part.
    assert masses(joined(day, divisible, mass_kg=7.5)) == {1: 12.5}
    assert divisible.parts.get().mass_kg == 12.5
    with pytest.raises(Invalid, match="at most 7"):
        joined(day, divisible, mass_kg=8.0)
    assert masses(joined(day, divisible)) == {1: 20.0}


@pytest.mark.parametrize("mass_kg", [0, -1, 1e9, math.nan, math.inf, 0.0001])
def test_a_mass_that_is_none_is_refused(day, mass_kg):
    with pytest.raises(Invalid) as refusal:
        joined(day, lot(day, may_be_split=True), mass_kg=mass_kg)
    assert refusal.value.problems[0].field == "mass_kg"


def test_a_lot_joins_once(day):
    mine = lot(day)
    joined(day, mine)
    with pytest.raises(Conflict, match="Nothing of this lot is left"):
        joined(day, mine)


def test_a_lot_that_was_withdrawn_or_goes_another_way_or_is_late_does_not_join(day):
    gone, late = lot(day), lot(day, ready_at=CLOSES_AT + timedelta(minutes=1))
    withdraw_lot(by=day.owner, lot=gone, now=NOW)
    with pytest.raises(Conflict, match="withdrawn"):
        joined(day, gone)
    with pytest.raises(Conflict, match="not ready"):
        joined(day, late)
    there = BuyerFactory(cooperative=day.cooperative, place=day.buyer.place)
    with pytest.raises(Invalid, match="another buyer"):
        joined(day, lot(day, buyer=there))
    with pytest.raises(Conflict, match="over"):
        joined(day, lot(day), now=DEPARTS_AT + HOUR)


def test_a_carton_that_is_not_there_takes_nothing(day):
    with pytest.raises(NotFound, match="no carton 7"):
        joined(day, lot(day), carton=7)


def test_species_that_are_kept_apart_do_not_share_a_carton(day):
    other = SpeciesFactory()
    SeparationFactory(cooperative=day.cooperative, one=other, other=day.species)
    joined(day, lot(day))
    with pytest.raises(Conflict, match="may not share a carton"):
        joined(day, lot(day, species=other))
    add_carton(by=day.packer, parcel=day.parcel)
    assert masses(joined(day, lot(day, species=other))) == {1: 20.0, 2: 20.0}
    assert masses(joined(day, lot(day, species=SpeciesFactory()))) == {1: 40.0, 2: 20.0}


def test_fish_that_no_filling_brings_there_hard_is_refused_with_the_reason():
    day = packing_day(leg=LONG_LEG)
    with pytest.raises(NotSafe) as refusal:
        joined(day, lot(day, mass_kg=80.0, start_temperature_c=-8.0))
    judged = refusal.value.judged
    assert judged.reason == "hold_too_short"
    assert "may not hold" in refusal.value.message
    assert judged.departure.judgement.chance_hard < 0.95
    assert not Part.objects.exists()


def test_a_carton_while_it_fills_may_hold_less_than_is_safe():
    """20 kg alone go soft on a day's journey and 100 kg do not: so the first 20 kg may come in."""
    day = packing_day(leg=LONG_LEG)
    assert masses(joined(day, lot(day, mass_kg=20.0))) == {1: 20.0}


def test_warm_fish_does_not_come_to_cold_fish():
    day = packing_day(leg=LONG_LEG)
    joined(day, lot(day, mass_kg=80.0, start_temperature_c=-25.0))
    with pytest.raises(NotSafe):
        joined(day, lot(day, mass_kg=10.0, start_temperature_c=-6.0))


def test_a_deadline_that_cannot_be_kept_is_refused(day):
    hurried = lot(day, deliver_by=DEPARTS_AT + HOUR)
    with pytest.raises(NotSafe) as refusal:
        joined(day, hurried)
    assert refusal.value.judged.reason == "arrives_after_deadline"
