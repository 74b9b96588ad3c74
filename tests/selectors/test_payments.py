from datetime import UTC, date, datetime

import pytest

from coop.selectors.payments import entries_of, local_today, payments_of
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.entries import EntryFactory
from tests.factories.shares import ClosedParcelFactory

pytestmark = pytest.mark.django_db


def test_payments_are_what_was_paid_in_and_out_of_one_cooperative_newest_first():
    shore = CooperativeFactory()
    old = EntryFactory(cooperative=shore, noted_on=date(2026, 3, 1))
    new = EntryFactory(cooperative=shore, kind="payout", amount_minor=5, noted_on=date(2026, 3, 4))
    parcel = ClosedParcelFactory(cooperative=shore)
    share = EntryFactory(cooperative=shore, kind="share", amount_minor=5, parcel=parcel)
    EntryFactory()
    assert list(payments_of(shore)) == [new, old]
    assert set(entries_of(shore)) == {old, new, share}


def test_today_is_the_day_where_the_cooperative_is():
    shore = CooperativeFactory(time_zone="Africa/Lusaka")
    assert local_today(shore, datetime(2026, 3, 5, 21, 59, tzinfo=UTC)) == date(2026, 3, 5)
    assert local_today(shore, datetime(2026, 3, 5, 22, tzinfo=UTC)) == date(2026, 3, 6)
