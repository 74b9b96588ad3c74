"""A cost that became known later is spread as the bill was, by new lines: what is written stays."""

from uuid import uuid4

import pytest

from coop.errors import Conflict, Invalid, NotAllowed, NotFound
from coop.models import Entry
from coop.selectors.split import split_of
from coop.selectors.statements import balance_of
from coop.services.bills import bill_to_write, write_bill
from coop.services.corrections import correct_bill
from tests.factories.members import MemberFactory, StrangerFactory
from tests.factories.parcels import closed
from tests.selectors.shared_carton import SHORT_WAY, shared_carton

pytestmark = pytest.mark.django_db


@pytest.fixture
def scene():
    found = shared_carton(20.0, 35.0, 45.0, leg=SHORT_WAY)
    found.packer = MemberFactory(cooperative=found.shore.cooperative, name="Packer", role="packer")
    return found


def billed(scene):
    split = bill_to_write(scene.parcel)
    closed(scene.parcel, closed_by=scene.packer)
    write_bill(scene.parcel, split, by=scene.packer, at=scene.parcel.closed_at)
    return split


@pytest.mark.parametrize("amount", [3100, -3100, 1, -1, 49_999])
def test_a_later_cost_is_spread_as_the_bill_was_and_changes_nothing_written(scene, amount):
    split = billed(scene)
    before = [balance_of(member) for member in scene.members]
    entries = correct_bill(by=scene.packer, parcel=scene.parcel, amount_minor=amount, note="road block")
    moved = [balance_of(member) - old for member, old in zip(scene.members, before, strict=True)]
    assert sum(moved) == amount == sum(entry.amount_minor for entry in entries)
    for part, share in zip(moved, before, strict=True):
        assert abs(part - amount * share / split.bill_minor) <= 1
    assert split_of(scene.parcel).bill_minor == split.bill_minor
    assert {entry.kind for entry in entries} == {"correction"}


def test_the_same_correction_sent_twice_is_one(scene):
    billed(scene)
    terms = {"by": scene.packer, "parcel": scene.parcel, "note": "toll", "uuid": uuid4()}
    first = correct_bill(amount_minor=3000, **terms)
    again = correct_bill(amount_minor=3000, **terms)
    assert {entry.pk for entry in first} == {entry.pk for entry in again}
    with pytest.raises(Conflict, match="something else"):
        correct_bill(amount_minor=2000, **terms)
    assert Entry.objects.of(scene.shore.cooperative).filter(kind="correction").count() == 3


@pytest.mark.parametrize("amount", [0, 1.0, True, None, 10**12 + 1])
def test_an_amount_that_is_none_is_refused(scene, amount):
    billed(scene)
    with pytest.raises(Invalid, match="amount_minor"):
        correct_bill(by=scene.packer, parcel=scene.parcel, amount_minor=amount, note="toll")


def test_only_who_packs_corrects_and_only_a_bill_that_is_written(scene):
    terms = {"parcel": scene.parcel, "amount_minor": 10, "note": "toll"}
    with pytest.raises(Conflict, match="no bill yet"):
        correct_bill(by=scene.packer, **terms)
    billed(scene)
    with pytest.raises(NotAllowed):
        correct_bill(by=scene.members[0], **terms)
    with pytest.raises(NotFound):
        correct_bill(by=StrangerFactory(role="manager"), **terms)
    with pytest.raises(Invalid, match="note"):
        correct_bill(by=scene.packer, **(terms | {"note": " "}))
