"""What each departure of several days is held to: the limit, the confidence and the lead of its own day."""

from datetime import date

import pytest

from coop.errors import Invalid
from coop.selectors.departure_slots import rows_of, slots_of
from coop.selectors.departures import departures_for
from coop.selectors.standards import Standard, standard_on
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.scene import trade
from tests.models.refusals import change, twin
from tests.selectors.asking import MONDAY, question

pytestmark = pytest.mark.django_db
TUESDAY = date(2026, 3, 3)
UNSAID = {"limit_kind": None, "limit_value": None, "confidence": None}


@pytest.fixture
def shore():
    """A trade whose terms and limit change on Tuesday."""
    found = trade(CooperativeFactory())
    for row, columns in (
        (found.cooperative.termss.get(), {"confidence": 0.8, "closing_lead_minutes": 90}),
        (found.buyer.limits.get(), {"limit_kind": "core_c", "limit_value": -5.0}),
    ):
        change(row, valid_until=TUESDAY)
        twin(row, valid_from=TUESDAY, valid_until=None, **columns)
    return found


def test_each_departure_has_the_standard_of_its_day(shore):
    asked = question(shore, days=2, **UNSAID)
    slots = slots_of(asked, rows_of(asked))
    assert [slot.standard for slot in slots] == [
        Standard("softened_share", 0.05, 0.95, 40 * 60),
        Standard("core_c", -5.0, 0.8, 90 * 60),
    ]
    assert [slot.wait for slot in slots] == [40 * 60, 90 * 60]
    assert [standard_on(asked, slot.day) for slot in slots] == [slot.standard for slot in slots]


def test_what_is_asked_for_goes_before_it(shore):
    asked = question(shore, days=2, limit_kind="mean_c", limit_value=-9.0, confidence=0.7)
    for slot in slots_of(asked, rows_of(asked)):
        standard = slot.standard
        assert (standard.limit_kind, standard.limit_value, standard.confidence) == ("mean_c", -9.0, 0.7)


def test_two_days_asked_together_are_answered_as_each_by_itself(shore):
    together = departures_for(question(shore, days=2, **UNSAID))
    apart = [
        one
        for day in (MONDAY, TUESDAY)
        for one in departures_for(question(shore, first_day=day, last_day=day, **UNSAID))
    ]
    assert [one.judgement.chance_hard for one in together] == [one.judgement.chance_hard for one in apart]
    assert [one.key for one in together] == [one.key for one in apart]


def test_a_departure_takes_the_design_of_its_day(shore):
    old = shore.design
    change(old, valid_until=TUESDAY)
    new = twin(old, valid_from=TUESDAY, valid_until=None, stowage_density_kg_m3=500.0)
    found = departures_for(question(shore, days=2))
    assert [one.design for one in found] == [old, new]
    assert {one.key.split("-", 2)[2] for one in found} == {old.slug}


def test_a_departure_on_a_day_without_terms_is_refused(shore):
    shore.cooperative.termss.all().delete()
    with pytest.raises(Invalid, match="no terms"):
        departures_for(question(shore))
