from datetime import date

import pytest

from coop.errors import Invalid
from coop.selectors.terms import terms_of, terms_on
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.terms import TermsFactory
from tests.models.refusals import change, twin

pytestmark = pytest.mark.django_db
NEW_YEAR = date(2026, 1, 1)


@pytest.fixture
def changed():
    """Terms until the new year, and those after it."""
    old = TermsFactory(confidence=0.9)
    change(old, valid_until=NEW_YEAR)
    return old, twin(old, valid_from=NEW_YEAR, valid_until=None, confidence=0.97)


def test_the_terms_of_a_day_count_from_their_first_day_on(changed):
    old, new = changed
    assert terms_on(old.cooperative, date(2025, 12, 31)) == old
    assert terms_on(old.cooperative, NEW_YEAR) == new
    assert list(terms_of(old.cooperative)) == [new, old]


def test_a_day_without_terms_is_named(changed):
    with pytest.raises(Invalid) as refusal:
        terms_on(changed[0].cooperative, date(1999, 12, 31))
    [problem] = refusal.value.problems
    assert (problem.field, problem.value) == ("terms", date(1999, 12, 31))


def test_a_stranger_has_terms_of_her_own(changed):
    other = CooperativeFactory()
    assert set(terms_of(other)).isdisjoint(changed)
