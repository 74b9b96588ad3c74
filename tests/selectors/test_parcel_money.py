"""What a parcel cost and what one member pays of it: the same from the list as of one."""

import pytest

from coop.selectors.parcel_money import UNKNOWN, ParcelMoney, money_of, written_money
from tests.factories.entries import EntryFactory
from tests.factories.members import MemberFactory
from tests.factories.parcels import called_off, closed
from tests.factories.shares import BillLineFactory, ShareFactory, StabilityFactory
from tests.selectors.queries import questions
from tests.selectors.shared_carton import SHORT_WAY, shared_carton

pytestmark = pytest.mark.django_db


def billed(*masses_kg, rule="capped"):
    """A closed parcel whose lines cost 300 and 50, and whose first member pays 120 of it by the rule."""
    scene = shared_carton(*masses_kg, leg=SHORT_WAY)
    closed(scene.parcel)
    for position, amount in ((1, 300), (2, 50)):
        BillLineFactory(parcel=scene.parcel, position=position, amount_minor=amount)
    for rule_, amount in ((rule, 120), ("equal", 175)):
        ShareFactory(
            parcel=scene.parcel, member=scene.members[0], rule=rule_, amount_minor=amount, alone_minor=200
        )
        StabilityFactory(parcel=scene.parcel, rule=rule_)
    return scene


def test_it_is_the_sum_of_the_lines_and_the_share_by_the_rule_that_counts():
    scene = billed(20.0, 30.0)
    cooperative, parcel = scene.shore.cooperative, scene.parcel
    expected = ParcelMoney(350, 120, 200)
    assert written_money(cooperative, [parcel], scene.members[0]) == {parcel.pk: expected}
    assert money_of(parcel, scene.members[0]) == expected
    assert written_money(cooperative, [parcel], scene.members[1]) == {parcel.pk: ParcelMoney(350)}
    assert money_of(parcel, MemberFactory(cooperative=cooperative)) == ParcelMoney(350)


def test_an_open_parcel_has_none_in_a_list_and_one_without_fish_none_at_all():
    scene = shared_carton()
    member = MemberFactory(cooperative=scene.shore.cooperative)
    assert written_money(scene.shore.cooperative, [scene.parcel], member) == {}
    assert money_of(scene.parcel, member) == UNKNOWN


def test_many_parcels_take_as_many_questions_as_one():
    scene = billed(20.0)
    cooperative, member = scene.shore.cooperative, scene.members[0]
    one = questions(lambda: written_money(cooperative, [scene.parcel], member))
    assert one == questions(lambda: written_money(cooperative, [scene.parcel] * 30, member)) == 2


def entry_of(scene, member, amount, **columns):
    return EntryFactory(
        cooperative=scene.shore.cooperative,
        member=member,
        parcel=scene.parcel,
        amount_minor=amount,
        **columns,
    )


def test_of_a_parcel_that_was_called_off_the_old_bill_is_not_told_as_owed():
    scene = billed(20.0, 30.0)
    for member, amount in zip(scene.members, (120, 230), strict=True):
        share = entry_of(scene, member, amount, kind="share")
        entry_of(scene, member, -amount, kind="correction", corrects=share)
    called_off(scene.parcel)
    first, second = scene.members
    fellow = MemberFactory(cooperative=scene.shore.cooperative)

    def told(member):
        listed = written_money(scene.shore.cooperative, [scene.parcel], member)
        assert listed == {scene.parcel.pk: money_of(scene.parcel, member)}
        return money_of(scene.parcel, member)

    assert told(first) == told(second) == ParcelMoney(0, 0)
    # What was spent all the same comes as lines of its own.
    entry_of(scene, first, 40, kind="correction")
    assert (told(first), told(second), told(fellow)) == (
        ParcelMoney(40, 40),
        ParcelMoney(40, 0),
        ParcelMoney(40, None),
    )


def test_without_lines_of_accounts_nothing_is_told_of_one_that_was_called_off():
    scene = billed(20.0)
    called_off(scene.parcel)
    assert money_of(scene.parcel, scene.members[0]) == UNKNOWN
    assert written_money(scene.shore.cooperative, [scene.parcel], scene.members[0]) == {}


def test_bills_of_strangers_are_not_read():
    ours, theirs = billed(20.0), billed(30.0)
    assert written_money(ours.shore.cooperative, [theirs.parcel], ours.members[0]) == {}


def test_a_parcel_whose_way_lost_its_legs_is_worth_nothing_that_is_known():
    scene = shared_carton(20.0)
    scene.shore.route.legs.all().delete()
    assert money_of(scene.parcel, scene.members[0]) == UNKNOWN
