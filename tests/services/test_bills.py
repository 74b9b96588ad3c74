"""A bill is written once, when a parcel closes: lines, shares by every rule, and what each member owes."""

import pytest
from django.db import IntegrityError, transaction

from coop.errors import Conflict, Invalid
from coop.models import Entry, SharingRule
from coop.selectors.split import open_split, split_of
from coop.selectors.statements import balance_of
from coop.services.bills import bill_to_write, write_bill
from tests.factories.members import MemberFactory
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


def test_what_is_written_is_what_was_seen_before_it_closed(scene):
    seen, written = billed(scene), split_of(scene.parcel)
    assert (seen.final, written.final) == (False, True)
    assert written.bill_minor == seen.bill_minor
    for name in ("portions", "rules", "core_is_empty", "rule", "players"):
        assert getattr(written, name) == getattr(seen, name)
    assert [line.amount_minor for line in written.lines] == [line.amount_minor for line in seen.lines]


def test_shares_sum_to_the_bill_and_what_is_owed_is_the_share_by_the_rule_in_force(scene):
    billed(scene)
    split = split_of(scene.parcel)
    for rule in SharingRule:
        shares = scene.parcel.shares.filter(rule=rule)
        assert sum(share.amount_minor for share in shares) == split.bill_minor
    owed = [balance_of(member) for member in scene.members]
    assert owed == [split.share_of(member) for member in scene.members]
    assert sum(owed) == split.bill_minor
    assert split.rule == scene.shore.cooperative.sharing_rule == "capped"
    assert split.share_of(scene.packer) is None


def test_each_line_is_quantity_times_rate(scene):
    billed(scene)
    for line in scene.parcel.bill_lines.all():
        assert line.quantity * line.rate_minor == pytest.approx(line.amount_minor, abs=0.5)


def test_a_bill_is_written_once(scene):
    split = billed(scene)
    with pytest.raises((Invalid, IntegrityError)), transaction.atomic():
        write_bill(scene.parcel, split, by=scene.packer, at=scene.parcel.closed_at)
    assert Entry.objects.of(scene.shore.cooperative).count() == 3


def test_without_a_price_nothing_is_billed(scene):
    scene.shore.tariff.delete()
    with pytest.raises(Conflict, match="fare of"):
        bill_to_write(scene.parcel)
    split = open_split(scene.parcel)
    assert (split.bill_minor, split.rules, split.players) == (None, (), 3)
