"""Money adds up after any sequence of what people do: a machine of hypothesis tries them."""

import pytest
from hypothesis import HealthCheck, settings
from hypothesis.stateful import run_state_machine_as_test

from coop.selectors.parcel_judgement import Judged, ParcelJudge
from coop.selectors.safe_fills import SafeFills
from tests.services.money_machine import Money

pytestmark = pytest.mark.django_db

SAFE_KG = 15.0


@pytest.fixture
def told(monkeypatch):
    """A carton is safe from 15 kg on; what is in it when it closes always is."""

    def judged(self, parcel, fill, *, closes_at=None):
        return Judged(fill, None, 0.99, parcel.departs_at)

    monkeypatch.setattr(ParcelJudge, "judged", judged)
    monkeypatch.setattr(SafeFills, "_is_hard", lambda self, departure, design, mass, species: mass >= SAFE_KG)


@pytest.mark.usefixtures("told")
def test_money_adds_up_after_any_sequence():
    health = [HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much]
    pace = {"max_examples": 10, "stateful_step_count": 30, "deadline": None}
    run_state_machine_as_test(Money, settings=settings(**pace, suppress_health_check=health))
