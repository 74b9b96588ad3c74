"""Offering, changing and withdrawing a lot, by whom it may be done and with what."""

import math
from datetime import timedelta
from uuid import uuid4

import pytest

from coop.errors import Conflict, Invalid, NotAllowed, NotFound
from coop.models import Lot
from coop.services.lots import change_lot, offer_lot, withdraw_lot
from coop.services.parcels import join_parcel
from tests.factories.buyers import BuyerFactory
from tests.factories.members import MemberFactory
from tests.services.packing_day import NOW, lot, packing_day

pytestmark = pytest.mark.django_db
HOUR, DAY = timedelta(hours=1), timedelta(days=1)


@pytest.fixture
def day():
    return packing_day()


def offer(day, by=None, **changes):
    wanted = {
        "route": day.route,
        "buyer": day.buyer,
        "species": day.species,
        "mass_kg": 20.0,
        "frozen_since": NOW - DAY,
        "ready_at": NOW + HOUR,
        "start_temperature_c": -18.0,
        "now": NOW,
    }
    return offer_lot(by=by or day.owner, **(wanted | changes))


def refused_field(kind, act):
    with pytest.raises(kind) as refusal:
        act()
    return refusal.value.problems[0].field


def test_a_member_offers_her_own_fish_and_a_packer_that_of_anybody(day):
    own = offer(day)
    assert (own.member, own.offered_by, own.offered_at, own.state) == (day.owner, day.owner, NOW, "offered")
    for_another = offer(day, by=day.packer, member=day.fellow)
    assert (for_another.member, for_another.offered_by) == (day.fellow, day.packer)
    with pytest.raises(NotAllowed, match="somebody else"):
        offer(day, member=day.fellow)


def test_the_same_id_again_answers_with_the_first_lot(day):
    name = uuid4()
    first = offer(day, uuid=name)
    assert offer(day, uuid=name, mass_kg=99.0) == first
    assert Lot.objects.get().mass_kg == 20.0
    with pytest.raises(Conflict, match="something else"):
        offer(day, by=day.fellow, uuid=name)


def test_an_id_that_another_cooperative_gave_is_refused_without_a_word_about_it(day):
    theirs = lot(packing_day())
    with pytest.raises(Invalid):
        offer(day, uuid=theirs.uuid)


@pytest.mark.parametrize("mass_kg", [0, -5, 0.0004, math.nan, math.inf, 1e9])
def test_a_mass_that_is_none_is_refused(day, mass_kg):
    assert refused_field(Invalid, lambda: offer(day, mass_kg=mass_kg)) == "mass_kg"
    assert not Lot.objects.exists()


@pytest.mark.parametrize("start_temperature_c", [-2.0, 4.0, -60.0, math.nan])
def test_fish_that_is_not_frozen_is_refused(day, start_temperature_c):
    wrong = refused_field(Invalid, lambda: offer(day, start_temperature_c=start_temperature_c))
    assert wrong == "start_temperature_c"


@pytest.mark.parametrize(
    ("field", "changes"),
    [
        ("frozen_since", {"frozen_since": NOW + 2 * HOUR}),
        ("frozen_since", {"frozen_since": NOW - 900 * DAY}),
        ("ready_at", {"ready_at": NOW + 90 * DAY}),
        ("deliver_by", {"deliver_by": NOW + HOUR}),
        ("deliver_by", {"ready_at": NOW - HOUR, "deliver_by": NOW - HOUR / 2}),
    ],
)
def test_hours_in_a_wrong_order_are_refused(day, field, changes):
    assert refused_field(Invalid, lambda: offer(day, **changes)) == field


def test_a_buyer_who_is_not_at_the_end_of_the_route_is_refused(day):
    elsewhere = BuyerFactory(cooperative=day.cooperative)
    assert refused_field(Invalid, lambda: offer(day, buyer=elsewhere)) == "buyer"


def test_somebody_who_left_offers_no_more(day):
    gone = MemberFactory(cooperative=day.cooperative, left_on="2026-02-01")
    assert refused_field(Invalid, lambda: offer(day, by=day.packer, member=gone)) == "member"


def test_what_belongs_to_another_cooperative_is_not_there(day):
    with pytest.raises(NotFound):
        offer(day, by=day.stranger)
    with pytest.raises(NotFound):
        offer(day, by=day.packer, member=day.stranger)
    theirs = lot(day)
    for act in (change_lot, withdraw_lot):
        with pytest.raises(NotFound):
            act(by=day.stranger, lot=theirs)


def test_a_fellow_does_nothing_with_the_lot_of_another(day):
    theirs = lot(day)
    for act in (change_lot, withdraw_lot):
        with pytest.raises(NotAllowed):
            act(by=day.fellow, lot=theirs)


def test_a_lot_is_changed_while_it_waits_and_only_its_note_once_it_lies_in_a_carton(day):
    mine = lot(day)
    changed = change_lot(by=day.owner, lot=mine, mass_kg=25.00049, may_be_split=True, now=NOW)
    assert (changed.mass_kg, changed.may_be_split) == (25.0, True)
    with pytest.raises(Invalid):
        change_lot(by=day.owner, lot=mine, mass_kg=-1, now=NOW)
    join_parcel(by=day.owner, parcel=day.parcel, lot=mine, now=NOW)
    assert refused_field(Conflict, lambda: change_lot(by=day.owner, lot=mine, mass_kg=30, now=NOW)) == "lot"
    assert change_lot(by=day.owner, lot=mine, note="blue bags", now=NOW).note == "blue bags"


def test_a_change_that_no_lot_knows_is_a_fault_of_ours(day):
    with pytest.raises(TypeError, match="withdrawn_at"):
        change_lot(by=day.owner, lot=lot(day), withdrawn_at=NOW)


def test_a_lot_is_withdrawn_once_and_not_out_of_a_carton(day):
    mine, placed = lot(day), lot(day)
    assert withdraw_lot(by=day.owner, lot=mine, now=NOW).state == "withdrawn"
    assert withdraw_lot(by=day.owner, lot=mine, now=NOW + DAY).withdrawn_at == NOW
    with pytest.raises(Conflict, match="withdrawn"):
        change_lot(by=day.owner, lot=mine, note="x", now=NOW)
    join_parcel(by=day.owner, parcel=day.parcel, lot=placed, now=NOW)
    with pytest.raises(Conflict, match="lies in a carton"):
        withdraw_lot(by=day.owner, lot=placed, now=NOW)
