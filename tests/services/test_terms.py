from datetime import UTC, date, datetime

import pytest

from coop.errors import Invalid
from coop.models import Terms
from coop.selectors.terms import terms_on
from coop.services.terms import change_terms
from tests.factories.members import MemberFactory

pytestmark = pytest.mark.django_db
NOW, TODAY, TOMORROW = datetime(2026, 3, 2, 8, tzinfo=UTC), date(2026, 3, 2), date(2026, 3, 3)


@pytest.fixture
def manager():
    return MemberFactory(role="manager")


def test_a_figure_changes_and_the_others_stay(manager):
    change_terms(by=manager, valid_from=TOMORROW, labour_price_minor_per_hour=3000, now=NOW)
    before, after = (terms_on(manager.cooperative, day) for day in (TODAY, TOMORROW))
    assert (before.labour_price_minor_per_hour, after.labour_price_minor_per_hour) == (2500, 3000)
    assert (after.confidence, after.closing_lead_minutes) == (before.confidence, before.closing_lead_minutes)


def test_the_first_terms_name_every_figure(manager):
    Terms.objects.of(manager.cooperative).delete()
    with pytest.raises(Invalid) as refusal:
        change_terms(by=manager, valid_from=TODAY, confidence=0.9, now=NOW)
    assert refusal.value.problems[0].field == "softened_share_limit"


def test_a_confidence_of_one_is_refused(manager):
    with pytest.raises(Invalid) as refusal:
        change_terms(by=manager, valid_from=TODAY, confidence=1.0, now=NOW)
    assert refusal.value.problems[0].field == "confidence"


def test_what_is_no_figure_of_the_terms_is_a_slip_of_the_programmer(manager):
    with pytest.raises(TypeError, match="changes no colour"):
        change_terms(by=manager, valid_from=TODAY, colour="red", now=NOW)
