"""The departures page of one route: 14 days, 3 departures a day, 4 carton designs, over 20 000 journeys."""

import time
from dataclasses import replace
from datetime import date, timedelta
from datetime import time as clock

import pytest
from django.core.cache import cache

from coop.models import Carrier, Cooperative, Route, Species, Timetable
from coop.models.timetables import WEEKDAYS
from coop.selectors.buyers import buyers_of
from coop.selectors.cartons import carton_designs_of
from coop.selectors.departure_slots import Question
from coop.selectors.departures import departures_for
from coop.selectors.routes import routes_of
from tests.benchmarks.figures import peak_memory_mb, show


@pytest.fixture
def asked(demo):
    """Three departures each day of a fortnight."""
    cooperative = Cooperative.objects.get(is_demo=True)
    route = Route.objects.get(cooperative=cooperative, slug="mpulungu-lusaka")
    rows = list(Timetable.objects.filter(route=route))
    Timetable.objects.filter(route=route).exclude(pk__in=[row.pk for row in rows[:3]]).delete()
    for row, hour in zip(rows[:3], (9, 13, 16), strict=True):
        Timetable.objects.filter(pk=row.pk).update(
            departs_at_local=clock(hour), **dict.fromkeys(WEEKDAYS, True)
        )
    Carrier.objects.update(carton_places=10)
    first = date(2026, 10, 5)
    return Question(
        cooperative=cooperative,
        route=routes_of(cooperative).get(pk=route.pk),
        buyer=buyers_of(cooperative).get(slug="lusaka-wholesaler"),
        species=Species.objects.get(code="IRQ"),
        designs=tuple(carton_designs_of(cooperative)),
        mass_kg=80.0,
        start_temperature_c=-18.0,
        first_day=first,
        last_day=first + timedelta(days=13),
        closes_at=None,
        deliver_by=None,
        limit_kind="softened_share",
        limit_value=0.05,
        confidence=0.95,
    )


def test_the_page_worked_out_anew(benchmark, asked):
    departures_for(asked)
    found = benchmark.pedantic(departures_for, (asked,), setup=cache.clear, rounds=5)
    assert len(found) == 14 * 3 * len(asked.designs)
    median = benchmark.stats.stats.median
    show(f"{len(found)} answers cold: {median:.2f} s, wanted at most 3 s; peak {peak_memory_mb():.0f} MB")


def test_a_fortnight_that_crosses_into_another_month(benchmark, asked):
    crossing = replace(asked, first_day=date(2026, 11, 24), last_day=date(2026, 12, 7))
    departures_for(crossing)
    benchmark.pedantic(departures_for, (crossing,), setup=cache.clear, rounds=3)
    show(f"the same across the end of a month: {benchmark.stats.stats.median:.2f} s")


def test_the_page_asked_again(benchmark, asked):
    departures_for(asked)
    benchmark(departures_for, asked)
    show(f"again: {1e3 * benchmark.stats.stats.median:.0f} ms, wanted at most 50 ms")


def test_the_first_answer_of_a_fresh_process_needs_no_compiler(asked):
    began = time.perf_counter()
    departures_for(asked)
    show(f"first answer in this process, engines kept compiled: {time.perf_counter() - began:.2f} s")
