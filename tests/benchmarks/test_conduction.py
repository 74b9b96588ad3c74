"""Speed of the conduction engine, and its ratio to a general solver at the same error, in one run."""

import time

import numpy as np
import pytest
from scipy import integrate, sparse

from coop.engines import conduction
from coop.engines.conduction import Air, Follow, Wall
from coop.engines.conduction_run import fresh_state, steps_an_interval
from tests.benchmarks.figures import show
from tests.engines.conduction_cases import COD, common_carton, grid_of, warm
from tests.engines.conduction_oracle import Oracle

HOURS = 96


def oracle(carton, grid):
    return Oracle(
        grid=grid,
        law=conduction.thaw_law(flesh=COD, stowage_density=carton.stowage_density),
        insulation_conductivity=carton.insulation_conductivity,
        insulation_heat=carton.insulation_density * carton.insulation_specific_heat,
        outside=np.full(6, 30.0),
        film=np.full(6, 8.0),
        board_resistance=carton.board_thickness / carton.board_conductivity,
        board_thickness=carton.board_thickness,
    )


def prepared(carton):
    """Grid and thaw law are made once a carton, as the general solver gets its problem ready made."""
    law = conduction.thaw_law(flesh=COD, stowage_density=carton.stowage_density)
    return {"grid": grid_of(carton, 100.0), "law": law, "hours": HOURS, "threads": 1}


def test_one_carton_s_curve_of_96_hours(benchmark):
    carton = common_carton()
    case = prepared(carton)
    warm(carton, **case)
    benchmark(warm, carton, **case)
    show(f"96 h curve: {1e3 * benchmark.stats.stats.median:.1f} ms, wanted at most 15 ms")


@pytest.mark.parametrize("refinement", [1, 2])
def test_cell_updates_a_second_on_one_core(benchmark, refinement):
    carton = common_carton()
    grid = grid_of(carton, 100.0, refinement)
    law = conduction.thaw_law(flesh=COD, stowage_density=carton.stowage_density)
    count, intervals, interval = 16, 4, 24 * 3600.0
    shape = (count, intervals, 6)
    wall = Wall(carton.insulation_density * carton.insulation_specific_heat, 0.06, 0.005)
    air = Air(np.full(shape, 30.0), np.full(shape, 8.0), interval)
    follow = Follow(read_every=intervals, refresh_every=intervals)
    start = np.full(count, law.position(-18.0, flesh=COD))
    case = {"grid": grid, "law": law, "wall": wall, "start": start, "insulation_start": 30.0}
    case |= {"insulation_conductivity": 0.07, "air": air, "follow": follow}
    conduction.warming(**case)
    benchmark(conduction.warming, **case)
    updates = count * intervals * grid.volume.size * steps_of(case)
    rate = updates / benchmark.stats.stats.median
    show(f"{grid.volume.size} cells: {rate / 1e6:.0f} million cell updates a second, wanted at least 500")


def steps_of(case):
    parts = conduction._case(case["wall"], case["start"], 30.0, 0.07, case["air"])
    clock = conduction._clock(case["air"], case["follow"])
    clock = clock._replace(intervals=np.full(len(parts.weather), clock.intervals))
    cells, law = conduction._cells(case["grid"]), conduction._law(case["law"])
    return steps_an_interval(0, cells, law, parts, clock, fresh_state(0, cells, law, parts))


def sparsity(grid):
    """Which cells act on which: each on itself and on its six neighbours."""
    number = np.arange(grid.volume.size).reshape(grid.shape)
    pairs = [(number.ravel(), number.ravel())]
    for axis in range(3):
        low = np.take(number, range(grid.shape[axis] - 1), axis).ravel()
        high = np.take(number, range(1, grid.shape[axis]), axis).ravel()
        pairs += [(low, high), (high, low)]
    rows, columns = (np.concatenate(side) for side in zip(*pairs, strict=True))
    return sparse.csr_matrix((np.ones(len(rows)), (rows, columns)))


def solved(problem, grid, start, **options):
    """Mean temperatures every 6 h, and the seconds that solve_ivp took."""
    began = time.perf_counter()
    answer = integrate.solve_ivp(
        lambda _t, heat: problem.flow(heat.reshape(grid.shape))[0].ravel(),
        (0, HOURS * 3600.0), start.ravel(), t_eval=np.arange(0, HOURS + 1, 6) * 3600.0, **options,
    )  # fmt: skip
    seconds = time.perf_counter() - began
    return np.array([problem.fish_mean(y.reshape(grid.shape)) for y in answer.y.T]), seconds


def test_ratio_to_a_general_solver_at_the_same_error(benchmark):
    """Error is the largest difference of the mean of the fish from a tight solution on the same grid."""
    carton = common_carton()
    grid = grid_of(carton, 100.0)
    problem = oracle(carton, grid)
    start = problem.start(problem.law.position(-18.0, flesh=COD), 30.0)
    reference, _ = solved(problem, grid, start, method="RK45", rtol=1e-9, atol=1e-3)
    case = prepared(carton) | {"follow": Follow(read_every=12)}
    warm(carton, **case)
    ours = benchmark(warm, carton, **case)
    error = np.abs(ours.mean[0] - reference).max()
    show(f"ours: {1e3 * benchmark.stats.stats.median:.2f} ms, error {error:.4f} K")
    shape = sparsity(grid)
    methods = {
        "RK45": [{"method": "RK45", "rtol": rtol, "atol": 1.0} for rtol in (1e-1, 1e-2, 1e-3, 1e-4, 1e-5)],
        "BDF": [
            {"method": "BDF", "rtol": rtol, "atol": 1e3 * rtol, "jac_sparsity": shape}
            for rtol in (1e-2, 1e-3, 1e-4, 1e-5, 1e-6)
        ],
    }
    best = np.inf
    for name, tries in methods.items():
        for options in tries:
            means, seconds = solved(problem, grid, start, **options)
            off = np.abs(means - reference).max()
            ratio = seconds / benchmark.stats.stats.median
            as_good = off <= error
            best = min(best, ratio) if as_good else best
            show(f"{name} rtol {options['rtol']:.0e}: {seconds:.2f} s, error {off:.4f} K, ratio {ratio:.0f}"
                 f"{'' if as_good else ' (less exact than ours)'}")  # fmt: skip
    show(f"the best of them that is at least as exact takes {best:.0f} times as long, wanted at least 100")
