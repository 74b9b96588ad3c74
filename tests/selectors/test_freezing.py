"""A lot in a freezer: when it is ready, how cold it is at closing, and what that takes."""

import math
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from coop.engines.pull_down import heat_removed
from coop.errors import Invalid
from coop.selectors.engine_inputs import flesh_of
from coop.selectors.freezing import FREEZER_TOO_WARM, NOT_FROZEN_BY_CLOSING, FreezingQuestion, freezing_of
from tests.factories.freezers import FreezerFactory
from tests.factories.species import SpeciesFactory

pytestmark = pytest.mark.django_db
MORNING = datetime(2026, 3, 1, 4, tzinfo=UTC)


@pytest.fixture
def question():
    chest = FreezerFactory(air_temperature_c=-25, film_w_m2_k=8, freezing_kg_per_day=40, holds_kg=200)
    return FreezingQuestion(
        cooperative=chest.cooperative, freezer=chest, species=SpeciesFactory(), mass_kg=20.0, besides_kg=0.0,
        shape="ellipsoid", thickness_m=0.05, width_m=0.09, length_m=0.35, initial_c=24.0,
        put_in_at=MORNING, closes_at=None, core_c=-18.0,
    )  # fmt: skip


def test_fish_is_ready_when_its_core_is_as_cold_as_wanted(question):
    ready = freezing_of(question).ready_at
    just_then = freezing_of(replace(question, closes_at=ready))
    assert just_then.reason is None
    assert -18.5 < just_then.core_at_closing_c <= -18.0
    before = freezing_of(replace(question, closes_at=ready - timedelta(minutes=30)))
    assert before.reason == NOT_FROZEN_BY_CLOSING
    assert before.core_at_closing_c > -18.0


def test_the_best_estimate_is_sooner_than_what_is_sure(question):
    found = freezing_of(question)
    assert MORNING < found.ready_at_best < found.ready_at < MORNING + timedelta(days=2)


def test_an_hour_after_it_was_put_in_nothing_is_promised(question):
    found = freezing_of(replace(question, closes_at=MORNING + timedelta(hours=1)))
    assert found.core_at_closing_c is None
    assert found.reason == NOT_FROZEN_BY_CLOSING


def test_without_a_closing_there_is_nothing_to_miss(question):
    found = freezing_of(question)
    assert (found.core_at_closing_c, found.reason) == (None, None)


@pytest.mark.parametrize(
    "worse",
    [
        {"besides_kg": 100.0},
        {"mass_kg": 120.0},
        {"thickness_m": 0.08},
        {"width_m": math.inf, "length_m": math.inf},
        {"initial_c": 30.0},
        {"core_c": -20.0},
    ],
)
def test_more_thicker_and_warmer_fish_is_ready_later(question, worse):
    assert freezing_of(replace(question, **worse)).ready_at > freezing_of(question).ready_at


def test_fish_never_comes_down_to_what_is_colder_than_the_air(question):
    found = freezing_of(replace(question, core_c=-25.0))
    assert (found.ready_at, found.energy_kwh, found.cost_minor) == (None, None, None)
    assert found.reason == FREEZER_TOO_WARM


def test_energy_is_the_enthalpy_and_the_lots_part_of_what_the_freezer_takes_in_any_case(question):
    question.freezer.coefficient_of_performance = 1.0
    question.freezer.standing_w = 0.0
    found = freezing_of(question)
    heat = 20 * heat_removed(initial=24.0, final=-18.0, flesh=flesh_of(question.species))
    assert found.energy_kwh == pytest.approx(heat / 3.6e6, rel=1e-6)
    question.freezer.standing_w = 100.0
    hours = (found.ready_at - MORNING).total_seconds() / 3600
    with_standing = freezing_of(question).energy_kwh
    # ready_at is rounded to five minutes; a tenth of the freezer is the lot's.
    assert with_standing - found.energy_kwh == pytest.approx(0.1 * 0.1 * hours, rel=0.01)


def test_others_fish_takes_its_own_energy(question):
    question.freezer.standing_w = 0.0
    alone, shared = freezing_of(question), freezing_of(replace(question, besides_kg=60.0))
    assert shared.energy_kwh == pytest.approx(alone.energy_kwh, rel=1e-6)


def test_it_costs_the_price_of_the_cooperative(question):
    found = freezing_of(question)
    assert found.cost_minor == pytest.approx(found.energy_kwh * 260, abs=0.5)
    assert isinstance(found.cost_minor, int)


@pytest.mark.parametrize(
    ("changes", "field"), [({"mass_kg": 300.0}, "mass_kg"), ({"besides_kg": 190.0}, "besides_kg")]
)
def test_more_than_the_freezer_holds_is_refused(question, changes, field):
    with pytest.raises(Invalid) as refusal:
        freezing_of(replace(question, **changes))
    assert refusal.value.problems[0].field == field


@pytest.mark.parametrize("air", [-12.0, -50.0])
def test_a_freezer_in_whose_air_no_freezing_was_measured_is_refused(question, air):
    question.freezer.air_temperature_c = air
    with pytest.raises(Invalid, match="freezes no fish that is known"):
        freezing_of(question)
