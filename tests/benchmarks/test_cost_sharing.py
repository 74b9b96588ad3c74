"""Sharing a bill: Shapley's value at 8 players against coopgt and at 20 exactly, the nucleolus at 12."""

import time
import tracemalloc

import numpy as np
from coopgt import shapley_value

from coop.engines.coalitions import coalition_costs, subadditive_cover
from coop.engines.core import objection
from coop.engines.nucleolus import nucleolus
from coop.engines.shapley import shapley
from tests.benchmarks.figures import peak_memory_mb, show
from tests.engines.cost_games import airport, coalitions

WANTED = {"ratio": 100, "seconds": 2, "megabytes": 500}


def by_cartons(players):
    """Lots of a day in cartons of 60 kg, with papers."""
    masses = np.random.default_rng(players).integers(5, 70, players)
    return coalition_costs(masses, cost=lambda mass: 5000 + 38_000 * np.ceil(mass / 60) + 120 * mass)


def test_eight_players_against_coopgt(benchmark):
    game = by_cartons(8)
    named = {(): 0.0}
    for group in coalitions(8):
        named[tuple(player + 1 for player in group)] = game[sum(1 << player for player in group)]
    began = time.perf_counter()
    theirs = shapley_value.calculate(named, 8)
    taken = time.perf_counter() - began
    ours = benchmark(shapley, game)
    assert np.allclose(ours, theirs, rtol=1e-10)
    ratio = taken / benchmark.stats.stats.median
    show(
        f"Shapley, 8 players: {1e6 * benchmark.stats.stats.median:.0f} µs, coopgt {ratio:.0f} times as long, "
        f"wanted at least {WANTED['ratio']}"
    )
    assert ratio >= WANTED["ratio"]


def test_twenty_players_exactly(benchmark):
    game = by_cartons(20)
    shares = benchmark.pedantic(shapley, (game,), rounds=5, warmup_rounds=1)
    tracemalloc.start()
    shapley(game)
    more = tracemalloc.get_traced_memory()[1] / 2**20
    tracemalloc.stop()
    assert np.isclose(shares.sum(), game[-1], rtol=1e-12)
    show(
        f"Shapley, 20 players exactly: {benchmark.stats.stats.median:.3f} s, wanted at most "
        f"{WANTED['seconds']} s; {more:.0f} MB beside the table of 8 MB; peak of the process "
        f"{peak_memory_mb():.0f} MB, wanted at most {WANTED['megabytes']}"
    )


def test_a_table_of_twenty_from_kilograms(benchmark):
    benchmark.pedantic(by_cartons, (20,), rounds=3)
    show(f"costs of all coalitions of 20 lots: {benchmark.stats.stats.median:.2f} s")


def test_the_nucleolus_of_twelve(benchmark):
    game = subadditive_cover(by_cartons(12))
    shares = benchmark.pedantic(nucleolus, (game,), rounds=3)
    show(f"nucleolus, 12 players in cartons: {benchmark.stats.stats.median:.2f} s")
    assert np.isclose(shares.sum(), game[-1], rtol=1e-12)
    assert objection(game, shares).gain >= 0


def test_the_nucleolus_of_an_airport_of_twelve(benchmark):
    game = airport([5, 90, 12, 12, 44, 44, 44, 70, 31, 5, 12, 90])
    benchmark.pedantic(nucleolus, (game,), rounds=3)
    show(f"nucleolus, 12 players with many ties: {benchmark.stats.stats.median:.2f} s")


def test_the_cheapest_partitions_of_twelve(benchmark):
    benchmark.pedantic(subadditive_cover, (by_cartons(12),), rounds=3)
    show(f"cheapest partition of every coalition of 12: {1e3 * benchmark.stats.stats.median:.0f} ms")
