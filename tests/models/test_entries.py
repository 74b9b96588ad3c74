from uuid import uuid4

import pytest
from django.db import connection

from tests.factories.entries import EntryFactory
from tests.factories.members import MemberFactory
from tests.factories.shares import ClosedParcelFactory
from tests.models.refusals import change, refused, twin

pytestmark = pytest.mark.django_db


def test_an_entry_never_changes_or_vanishes():
    entry = EntryFactory()
    for columns in ({"amount_minor": -1}, {"note": "paid in coins"}, {"noted_on": "2026-01-01"}):
        with refused("entry_never_changes"):
            change(entry, **columns)
    with refused("entry_never_vanishes"):
        entry.delete()
    with refused("entry_never_vanishes"), connection.cursor() as cursor:
        cursor.execute("DELETE FROM coop_entry")


@pytest.mark.parametrize(
    ("kind", "amount_minor"), [("payment", 1), ("payment", 0), ("payout", -1), ("payout", 0)]
)
def test_what_was_paid_in_is_negative_and_what_was_paid_out_is_positive(kind, amount_minor):
    with refused("entry_has_the_sign_of_its_kind"):
        EntryFactory(kind=kind, amount_minor=amount_minor)
    EntryFactory(kind="payout", amount_minor=1)


def test_an_entry_names_what_it_is_about():
    for kind in ("share", "proceeds", "claim", "correction"):
        with refused("entry_names_what_it_is_about"):
            EntryFactory(kind=kind, amount_minor=0)
    parcel = ClosedParcelFactory()
    own = {"cooperative": parcel.cooperative, "parcel": parcel}
    EntryFactory(kind="share", amount_minor=5, **own)
    EntryFactory(kind="correction", amount_minor=5, **own)


def test_only_a_correction_corrects_and_each_entry_once_and_of_the_same_member():
    entry = EntryFactory()
    with refused("entry_that_corrects_is_a_correction"):
        twin(entry, uuid=uuid4(), corrects=entry)
    back = {"kind": "correction", "amount_minor": 10_000, "corrects": entry}
    twin(entry, uuid=uuid4(), **back)
    with refused("coop_entry.corrects_id|entry_corrected_once"):
        twin(entry, uuid=uuid4(), **back)
    fellow = MemberFactory(cooperative=entry.cooperative)
    other = EntryFactory(cooperative=entry.cooperative)
    with refused("entry_corrects_one_of_the_same_member"):
        twin(entry, uuid=uuid4(), member=fellow, **(back | {"corrects": other}))
