"""The demonstration's departures, asked offline 10 000 times: never safer than the full computation."""

import os
import time
from datetime import date, timedelta

import numpy as np
import pytest
from django.utils import timezone

from coop.engines.carton import capacity
from coop.models import Cooperative, Species
from coop.selectors.buyers import buyers_of
from coop.selectors.cartons import carton_designs_of
from coop.selectors.departure_slots import Question
from coop.selectors.engine_inputs import carton_of
from coop.selectors.routes import routes_of
from coop.services.demo import FIXTURES, load_fixture
from tests.benchmarks.figures import show
from tests.selectors.reckoned import compare, phone_says, slots_and_plans

QUESTIONS = int(os.environ.get("CARTON_HOUR_QUESTIONS", 10_000))
MONDAY = date(2026, 11, 30)
TRIPS = (
    ("mpulungu-lusaka", "lusaka-wholesaler", "IRQ", MONDAY),
    ("mpulungu-lusaka", "lusaka-kitchen", "LTM", MONDAY + timedelta(days=1)),
    ("mpulungu-kasama", "kasama-shop", "SIA", MONDAY),
    ("mpulungu-mpika", "mpika-guesthouse", "IRQ", MONDAY + timedelta(days=1)),
)
COLDEST, WARMEST = -31.0, -7.0
"""°C that are asked, a degree beyond what a phone can tell."""
ASKED_FOR_NARROW, NARROW = 10, 5
"""A phone alone is asked so many times as much for what it calls safe most narrowly; one part in so many of
the questions more are those: there it would first be wrong."""


@pytest.fixture
def demo(db):
    now = timezone.now()
    for name in FIXTURES:
        load_fixture(name, now)
    return Cooperative.objects.get()


def departures(cooperative):
    for route, buyer, species, day in TRIPS:
        question = Question(
            cooperative=cooperative,
            route=routes_of(cooperative).get(slug=route),
            buyer=buyers_of(cooperative).get(slug=buyer),
            species=Species.objects.get(code=species),
            designs=tuple(carton_designs_of(cooperative).on(day)),
            mass_kg=40.0,
            start_temperature_c=-18.0,
            first_day=day,
            last_day=day,
            closes_at=None,
            deliver_by=None,
        )
        yield from slots_and_plans(question)


def drawn(draw, count, fits):
    """Fish of (kg, °C) for one carton and a little beyond what a phone can tell."""
    masses, starts = draw.uniform(0.09, 1, count) * fits, draw.uniform(COLDEST, WARMEST, count)
    return list(zip(masses, starts, strict=True))


def narrowly_safe(question, plan, design, fish, count):
    """Those of the fish that a phone calls safe with the least to spare."""
    told = phone_says(question, plan, design, fish, MONDAY)
    safe = [(one["chance_hard"], number) for number, one in enumerate(told) if one.get("safe")]
    return [fish[number] for _, number in sorted(safe)[:count]]


@pytest.mark.timeout(7200)
def test_ten_thousand_questions_offline(demo):
    begun, asked = time.perf_counter(), list(departures(demo))
    each = -(-QUESTIONS // len(asked))
    found, narrow = [], []
    for number, (question, plan, design) in enumerate(asked):
        draw, fits = np.random.default_rng(100 + number), capacity(carton_of(design))
        of, others = (question, plan, design), drawn(draw, each, fits)
        found.append(compare(*of, others, MONDAY))
        many = drawn(draw, ASKED_FOR_NARROW * each, fits)
        narrow.append(compare(*of, narrowly_safe(*of, many, each // NARROW), MONDAY))
    hold = np.concatenate([one.hold_errors() for one in found])
    latest = np.concatenate([one.latest_errors() for one in found])
    show(
        f"offline questions: {each * len(asked)} asked, {len(hold)} answered, "
        f"{sum(full.reason is None for one in found for _, full in one.answered())} safe in full, "
        f"{len(latest)} called safe, {sum(one.unsafe_called_safe() for one in found)} wrongly; "
        f"hold within 5 % in {np.mean(hold >= -0.05):.4f}, longer in {int((hold > 0).sum())} "
        f"(by {hold.max():.2%} at most); of {sum(len(one.told) for one in narrow)} more that a phone calls "
        f"safe most narrowly {sum(one.unsafe_called_safe() for one in narrow)} wrongly; "
        f"{time.perf_counter() - begun:.0f} s"
    )
    assert sum(one.unsafe_called_safe() for one in found + narrow) == 0
    assert max(one.chance_errors().max(initial=-1) for one in found + narrow) <= 0
    assert latest.max() <= 0
    assert hold.max() <= 0
    assert np.mean(hold >= -0.05) >= 0.95
