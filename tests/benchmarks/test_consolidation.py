"""u120_00 of OR-Library, and a planning day of 60 lots, 20 departures and 3 carriers."""

import time

import pytest

from coop.management.engines import plan_a_day
from tests.benchmarks.figures import show
from tests.engines.consolidation_cases import billed, bin_packing, breaches
from tests.engines.consolidation_planning import planning_day


def test_u120_00_of_the_library():
    plan_a_day()
    began = time.perf_counter()
    found = bin_packing().plan(clock=time.monotonic)
    took = time.perf_counter() - began
    assert found.cost == found.bound == 48
    show(f"u120_00 packed into 48 and proven: {took:.2f} s, wanted at most 10 s")


@pytest.mark.parametrize("seed", range(20))
def test_a_planning_day(seed):
    plan_a_day()
    day, began = planning_day(seed), time.process_time()
    found = day.plan(clock=time.monotonic, time_limit=20, gap=0.01)
    worked = time.process_time() - began
    assert breaches(day, found) == []
    assert found.bill == billed(day, found)
    show(
        f"day {seed}: gap {100 * found.gap:.2f} % after {found.seconds:.1f} s ({worked:.1f} s of a core),"
        f" {len(found.cartons)} cartons, {len(found.left_behind)} lots left; wanted 1 % in 20 s"
    )
