"""Payments in and out, and what undoes them: nothing is ever changed, and a double submit writes once."""

from datetime import UTC, date, datetime
from uuid import uuid4

import pytest

from coop.errors import Conflict, Invalid, NotAllowed, NotFound
from coop.models import Entry
from coop.selectors.statements import balance_of, statement_of
from coop.services.payments import correct_entry, record_payment
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.entries import EntryFactory
from tests.factories.members import FellowFactory, MemberFactory, OwnerFactory, StrangerFactory
from tests.factories.shares import ClosedParcelFactory

pytestmark = pytest.mark.django_db

NOW = datetime(2026, 3, 5, 9, tzinfo=UTC)


@pytest.fixture
def packer():
    return MemberFactory(cooperative=CooperativeFactory(slug="shore"), name="Packer", role="packer")


def paid(packer, member, amount_minor=10_000, direction="in", **terms):
    wanted = {"paid_on": date(2026, 3, 5), "at": NOW, **terms}
    return record_payment(by=packer, member=member, amount_minor=amount_minor, direction=direction, **wanted)


def test_what_is_paid_in_is_owed_less_and_what_is_paid_out_more(packer):
    owner = OwnerFactory()
    paid(packer, owner, 10_000)
    assert balance_of(owner) == -10_000
    paid(packer, owner, 4000, "out", note="in cash")
    found = statement_of(owner)
    assert (found.balance_minor, found.owes_minor, found.is_owed_minor) == (-6000, 0, 6000)
    assert [entry.amount_minor for entry in found.entries] == [4000, -10_000]
    assert {entry.written_by for entry in found.entries} == {packer}


def test_the_same_payment_sent_twice_is_one(packer):
    owner, name = OwnerFactory(), uuid4()
    first = paid(packer, owner, uuid=name)
    assert paid(packer, owner, uuid=name) == first
    assert first.uuid == name
    assert Entry.objects.of(owner.cooperative).count() == 1


@pytest.mark.parametrize(
    "other",
    [{"amount_minor": 9999}, {"direction": "out"}, {"member": "fellow"}],
    ids=lambda it: next(iter(it)),
)
def test_another_payment_under_the_same_id_is_refused(packer, other):
    owner, name = OwnerFactory(), uuid4()
    paid(packer, owner, uuid=name)
    if "member" in other:
        other = {"member": FellowFactory()}
    with pytest.raises(Conflict, match="something else"):
        paid(packer, **({"member": owner} | other), uuid=name)
    assert Entry.objects.of(owner.cooperative).count() == 1


def test_an_id_that_strangers_used_tells_nothing_of_theirs(packer):
    theirs = EntryFactory()
    with pytest.raises(Invalid):
        paid(packer, OwnerFactory(), uuid=theirs.uuid)


def test_a_payment_is_taken_back_by_a_line_of_its_own(packer):
    owner, name = OwnerFactory(), uuid4()
    wrong = paid(packer, owner, 10_000)
    undone = correct_entry(by=packer, entry=wrong, note="it was 1 000", uuid=name, at=NOW)
    assert (undone.kind, undone.amount_minor, undone.corrects) == ("correction", 10_000, wrong)
    assert balance_of(owner) == 0
    assert Entry.objects.of(owner.cooperative).get(pk=wrong.pk).amount_minor == -10_000
    assert correct_entry(by=packer, entry=wrong, note="it was 1 000", uuid=name, at=NOW) == undone
    with pytest.raises(Conflict, match="corrected before"):
        correct_entry(by=packer, entry=wrong, note="again", at=NOW)
    with pytest.raises(Invalid, match="not taken back"):
        correct_entry(by=packer, entry=undone, note="after all", at=NOW)


def test_a_share_is_not_taken_back_and_a_correction_says_why(packer):
    parcel = ClosedParcelFactory(cooperative=packer.cooperative)
    share = EntryFactory(cooperative=packer.cooperative, kind="share", amount_minor=500, parcel=parcel)
    with pytest.raises(Invalid, match="corrected at its parcel"):
        correct_entry(by=packer, entry=share, note="too much", at=NOW)
    with pytest.raises(Invalid, match="note"):
        correct_entry(by=packer, entry=paid(packer, OwnerFactory()), note="  ", at=NOW)


@pytest.mark.parametrize("amount", [0, -1, 1.0, 0.5, True, None, "10", float("nan"), 10**12 + 1])
def test_an_amount_that_cannot_be_paid_is_refused(packer, amount):
    with pytest.raises(Invalid, match="amount_minor"):
        paid(packer, OwnerFactory(), amount)


def test_a_direction_and_a_day_that_cannot_be_are_refused(packer):
    owner = OwnerFactory()
    with pytest.raises(Invalid, match="direction"):
        paid(packer, owner, direction="over")
    with pytest.raises(Invalid, match="paid_on"):
        paid(packer, owner, paid_on=date(2026, 3, 6))
    # Half an hour before midnight in Greenwich it is the next day in Lusaka.
    paid(packer, owner, paid_on=date(2026, 3, 6), at=datetime(2026, 3, 5, 23, 30, tzinfo=UTC))


def test_members_record_nothing_and_strangers_find_nobody(packer):
    owner, fellow, stranger = OwnerFactory(), FellowFactory(), StrangerFactory(role="manager")
    line = paid(packer, owner)
    for by, failure in ((fellow, NotAllowed), (owner, NotAllowed), (stranger, NotFound)):
        with pytest.raises(failure):
            paid(by, owner)
        with pytest.raises(failure):
            correct_entry(by=by, entry=line, note="no", at=NOW)
    with pytest.raises(NotFound):
        paid(packer, stranger)
    assert balance_of(owner) == -10_000
