from datetime import date

import pytest

from coop.errors import Invalid
from coop.selectors.buyer_limits import buyer_limits_of, limit_on
from coop.selectors.buyers import buyers_of, buyers_on
from tests.factories.buyer_limits import BuyerLimitFactory
from tests.factories.buyers import BuyerFactory
from tests.models.refusals import change, twin
from tests.selectors.queries import questions

pytestmark = pytest.mark.django_db
NEW_YEAR, LAST_DAY = date(2026, 1, 1), date(2025, 12, 31)


@pytest.fixture
def limits():
    old = BuyerLimitFactory()
    change(old, valid_until=NEW_YEAR)
    return old, twin(old, valid_from=NEW_YEAR, valid_until=None, limit_kind="core_c", limit_value=-5.0)


def test_a_limit_counts_from_its_first_day_on(limits):
    old, new = limits
    assert limit_on(old.buyer, LAST_DAY) == old
    assert limit_on(old.buyer, NEW_YEAR) == new
    assert list(buyer_limits_of(old.buyer.cooperative)) == [new, old]


def test_no_question_is_asked_where_they_were_fetched(limits):
    [buyer] = buyers_of(limits[0].buyer.cooperative)
    assert questions(lambda: limit_on(buyer, NEW_YEAR)) == 0


def test_a_day_without_a_limit_names_the_buyer():
    buyer = BuyerFactory(limit__valid_from=NEW_YEAR)
    with pytest.raises(Invalid) as refusal:
        limit_on(buyer, LAST_DAY)
    [problem] = refusal.value.problems
    assert (problem.field, problem.value) == ("buyer", buyer.slug)


def test_a_list_of_buyers_shows_the_limit_of_a_day(limits):
    cooperative = limits[0].buyer.cooperative
    shown = [
        (row.limit_kind, row.limit_value)
        for day in (LAST_DAY, NEW_YEAR)
        for row in buyers_on(cooperative, day)
    ]
    assert shown == [("softened_share", 0.05), ("core_c", -5.0)]
    [none] = buyers_on(cooperative, date(1999, 1, 1))
    assert none.limit_kind is None
