"""A bill and its shares are written once, in order, as the parcel closes."""

import pytest
from django.db import connection

from tests.factories.cooperatives import CooperativeFactory
from tests.factories.entries import EntryFactory
from tests.factories.members import MemberFactory
from tests.factories.parcels import ParcelFactory, departed
from tests.factories.shares import BillLineFactory, ClosedParcelFactory, ShareFactory, StabilityFactory
from tests.models.refusals import change, refused, twin

pytestmark = pytest.mark.django_db
WRITTEN = [(BillLineFactory, "bill_line"), (ShareFactory, "share"), (StabilityFactory, "stability")]
every_row = pytest.mark.parametrize(("factory", "name"), WRITTEN, ids=[name for _, name in WRITTEN])


@every_row
def test_what_a_bill_says_never_changes_or_vanishes(factory, name):
    row = factory()
    with refused(f"{name}_never_changes"):
        change(row, **{"position": 2} if name == "bill_line" else {"rule": "equal"})
    with refused(f"{name}_never_vanishes"), connection.cursor() as cursor:
        cursor.execute(f"DELETE FROM {row._meta.db_table}")
    with refused(f"{name}_never_vanishes"):
        row.delete()
    assert type(row).objects.count() == 1


@every_row
def test_it_is_written_as_the_parcel_closes_and_neither_before_nor_after(factory, name):
    with refused(f"{name}_as_the_parcel_closes"):
        factory(parcel=ParcelFactory())
    with refused(f"{name}_as_the_parcel_closes"):
        factory(parcel=departed(ClosedParcelFactory()))


def test_no_line_is_added_after_the_shares_and_no_share_after_the_entries():
    parcel = ClosedParcelFactory()
    line = BillLineFactory(parcel=parcel)
    share = ShareFactory(parcel=parcel)
    with refused("bill_line_as_the_parcel_closes"):
        twin(line, position=2)
    EntryFactory(
        cooperative=parcel.cooperative, member=share.member, kind="share", amount_minor=1, parcel=parcel
    )
    with refused("share_as_the_parcel_closes"):
        twin(share, rule="equal")
    with refused("stability_as_the_parcel_closes"):
        StabilityFactory(parcel=parcel)


def test_each_line_each_share_and_each_rule_stands_there_once():
    line, share = BillLineFactory(), ShareFactory()
    for row, name in (
        (line, "coop_billline.parcel_id|bill_line_once"),
        (share, "coop_share.parcel_id|share_once"),
        (StabilityFactory(), "coop_stability.parcel_id|stability_once"),
    ):
        with refused(name):
            twin(row)


def test_a_share_is_of_a_member_of_the_same_cooperative():
    with refused("share_member_of_its_cooperative"):
        ShareFactory(member=MemberFactory(cooperative=CooperativeFactory()))
