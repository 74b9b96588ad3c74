"""What a phone works out by itself is never on the hopeful side of the full computation, and close to it.

The same for 10 000 questions about the demonstration: pytest tests/benchmarks/test_reckoning.py.
"""

import time
from concurrent.futures import ThreadPoolExecutor
from datetime import date

import numpy as np
import pytest

from coop.engines.carton import capacity
from coop.errors import NotFound
from coop.selectors.engine_inputs import carton_of
from coop.selectors.reckoning import key_of, reckoning, starts_for, worked_out_once
from coop.selectors.reckoning_nodes import looked_hold
from coop.selectors.standards import Standard
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.scene import trade
from tests.selectors.asking import question
from tests.selectors.reckoned import compare, in_full, slots_and_plans

pytestmark = pytest.mark.django_db

BEFORE = date(2025, 1, 1)
QUESTIONS = 60


def compared(**limit):
    ours = trade(CooperativeFactory(), leg={"hours_mean": 16.0, "hours_floor": 11.0, "hours_cv": 0.4})
    ((asked, plan, design),) = slots_and_plans(question(ours, **limit))
    draw, fits = np.random.default_rng(11), capacity(carton_of(design))
    fish = list(
        zip(draw.uniform(0.1, 0.999, QUESTIONS) * fits, draw.uniform(-30, -8, QUESTIONS), strict=True)
    )
    return compare(asked, plan, design, fish, BEFORE)


def test_the_phone_is_never_more_hopeful_than_the_full_computation_and_close_to_its_hold():
    found = compared()
    assert 0.1 < np.mean([full.reason is None for full in found.full]) < 0.9
    assert found.unsafe_called_safe() == 0
    assert found.chance_errors().max() <= 0
    assert found.latest_errors().max() <= 0
    errors = found.hold_errors()
    assert errors.max() <= 0
    assert np.mean(errors >= -0.05) >= 0.95
    assert len(found.answered()) >= 0.95 * QUESTIONS


@pytest.mark.parametrize("confidence", [0.5, 0.8, 0.95, 0.97, 0.9995])
@pytest.mark.parametrize(
    "limit",
    [{}, {"limit_kind": "core_c", "limit_value": -5.0}, {"limit_kind": "mean_c", "limit_value": -9.0}],
    ids=["softened", "core", "mean"],
)
def test_what_is_looked_at_to_place_the_nodes_is_the_hold_of_the_full_computation(confidence, limit):
    ours = trade(CooperativeFactory(), leg={"hours_mean": 16.0, "hours_floor": 11.0, "hours_cv": 0.4})
    ((asked, plan, design),) = slots_and_plans(question(ours, confidence=confidence, **limit))
    for mass, start in [(12.0, -11.0), (33.0, -24.0), (80.0, -18.0)]:
        full = in_full(asked, plan, design, mass, start).hold_cautious
        assert full > 0
        assert looked_hold(asked, plan, design, mass, start) == pytest.approx(full, abs=1.0)


def test_nothing_is_said_of_fish_that_is_about_as_warm_as_a_limit_of_temperature():
    found = compared(limit_kind="warmest_c", limit_value=-9.0)
    warm = [told for told, full in zip(found.told, found.full, strict=True) if full.hold_cautious < 60]
    assert warm
    assert all("outside" in told or not (told["safe"] or told["hold_min"]) for told in warm)
    assert found.unsafe_called_safe() == 0
    assert found.chance_errors().max() <= 0


def test_many_who_ask_at_once_have_it_worked_out_once():
    begun = []

    def work():
        begun.append("work")
        time.sleep(0.3)
        return "found"

    with ThreadPoolExecutor(8) as pool:
        asked = [pool.submit(worked_out_once, "reckoning:many", work) for _ in range(8)]
        assert {one.result() for one in asked} == {"found"}
    assert len(begun) == 1


def test_what_fails_lets_the_next_one_try():
    def fails():
        raise ValueError("no figures")

    with pytest.raises(ValueError, match="no figures"):
        worked_out_once("reckoning:failed", fails)
    assert worked_out_once("reckoning:failed", lambda: "found") == "found"


@pytest.mark.parametrize(
    ("kind", "value", "last"),
    [
        ("softened_share", 0.05, -8.0),
        ("core_c", -12.0, -13.5),
        ("mean_c", -9.0, -10.5),
        ("mean_c", -29.0, None),
    ],
)
def test_the_nodes_end_well_below_the_limit(kind, value, last):
    species = trade(CooperativeFactory()).species
    starts = starts_for(species, Standard(kind, value, 0.95, 2400.0))
    assert (starts[-1] if starts else None) == last
    assert list(starts) == sorted(starts)


def test_a_departure_that_is_not_there_is_not_found():
    ours = trade(CooperativeFactory())
    ((asked, plan, design),) = slots_and_plans(question(ours))
    name = key_of(plan.slot, design)
    with pytest.raises(NotFound):
        reckoning(asked, f"9{name}")
