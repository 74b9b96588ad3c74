from datetime import date, timedelta

import pytest

from coop.models import Terms
from coop.selectors.old_prices import is_old, old_before, old_prices_of
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.prices import FishPriceFactory

pytestmark = pytest.mark.django_db
TODAY = date(2026, 3, 2)


@pytest.fixture
def cooperative():
    return CooperativeFactory(terms__stale_after_days=10, terms__confirmed_on=TODAY)


def test_what_is_confirmed_within_the_days_of_the_terms_is_not_old(cooperative):
    before = old_before(cooperative, TODAY)
    assert before == TODAY - timedelta(days=10)
    assert [is_old(TODAY - timedelta(days=days), before) for days in (0, 10, 11)] == [False, False, True]
    assert not is_old(None, before)


def test_without_terms_only_what_is_a_year_old_is_old(cooperative):
    Terms.objects.of(cooperative).delete()
    assert old_before(cooperative, TODAY) == TODAY - timedelta(days=365)


def test_the_longest_unconfirmed_comes_first_and_what_begins_later_counts_too(cooperative):
    rows = [
        FishPriceFactory(
            cooperative=cooperative, confirmed_on=TODAY - timedelta(days=days), valid_from=begins
        )
        for days, begins in ((20, date(2025, 1, 1)), (40, date(2026, 5, 1)), (3, date(2025, 1, 1)))
    ]
    FishPriceFactory(cooperative=cooperative, valid_until=TODAY)
    FishPriceFactory()
    found = old_prices_of(cooperative, TODAY)
    assert [(one.row, one.days) for one in found] == [(rows[1], 40), (rows[0], 20)]
