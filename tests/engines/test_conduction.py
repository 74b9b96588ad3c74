"""The conduction engine against other methods on the same case, and what must hold for any carton."""

import itertools

import numpy as np
import pytest
from scipy import integrate

from coop.engines import conduction
from coop.engines.conduction import Follow
from tests.engines.conduction_cases import CASES, COD, common_carton, grid_of, hold_hours, warm
from tests.engines.conduction_oracle import Oracle


def oracle_of(carton, *, mass=100.0, outside=30.0, film=8.0):
    return Oracle(
        grid=grid_of(carton, mass),
        law=conduction.thaw_law(flesh=COD, stowage_density=carton.stowage_density),
        insulation_conductivity=carton.insulation_conductivity,
        insulation_heat=carton.insulation_density * carton.insulation_specific_heat,
        outside=np.full(6, outside),
        film=np.full(6, film),
        board_resistance=carton.board_thickness / carton.board_conductivity,
        board_thickness=carton.board_thickness,
    )


def test_the_compiled_run_equals_plain_numpy():
    carton = common_carton()
    curves = warm(carton, hours=12)
    oracle = oracle_of(carton)
    start = oracle.start(oracle.law.position(-18.0, flesh=COD), 30.0)
    # The engine keeps its step to itself: it is the divisor of the interval that meets its heat.
    for steps in range(1, 60):
        heat, entered = oracle.run(start, step=1800 / steps, steps=steps, refresh_every=steps)
        if 4 * entered == pytest.approx(curves.heat_gained[0, 1], rel=1e-9):
            break
    else:
        pytest.fail("no number of steps an interval gives the engine's heat")
    heat, entered = oracle.run(start, step=1800 / steps, steps=24 * steps, refresh_every=4 * steps)
    assert 4 * entered == pytest.approx(curves.heat_gained[0, -1], rel=1e-9)
    assert oracle.fish_mean(heat) == pytest.approx(curves.mean[0, -1], abs=1e-8)


def test_an_adaptive_solver_on_the_same_grid_agrees():
    """scipy.integrate.solve_ivp chooses its own steps and renews the conductivity at each: within 0.05 K."""
    carton = common_carton()
    curves = warm(carton, hours=48)
    oracle = oracle_of(carton)
    start = oracle.start(oracle.law.position(-18.0, flesh=COD), 30.0)
    solved = integrate.solve_ivp(
        lambda t, heat: oracle.flow(heat.reshape(oracle.shape))[0].ravel(),
        (0, 48 * 3600),
        start.ravel(),
        rtol=1e-6,
        atol=1.0,
        t_eval=np.arange(0, 49, 6) * 3600.0,
    )
    assert solved.success
    means = [oracle.fish_mean(y.reshape(oracle.shape)) for y in solved.y.T]
    np.testing.assert_allclose(curves.mean[0, ::12], means, atol=0.05)
    for y, core in zip(solved.y.T, curves.core[0, ::12], strict=True):
        fish = oracle.temperature(y.reshape(oracle.shape))
        coldest = fish[oracle.fish].min()
        # The coldest cell lies within half a cell of the middle, so the middle is a little colder.
        assert coldest - 0.6 <= core <= coldest + 0.05


@pytest.mark.parametrize("case", CASES)
def test_heat_is_conserved(case):
    curves = warm(common_carton(), **case)
    assert curves.heat_gained[0, -1] > 0
    np.testing.assert_allclose(curves.heat_stored[0, 1:], curves.heat_gained[0, 1:], rtol=1e-9)


def test_an_array_equals_its_scalars():
    starts, conductivities = [-25.0, -18.0, -10.0], [0.06, 0.07, 0.12]
    together = warm(common_carton(), start=starts, conductivity=conductivities)
    for n, (start, conductivity) in enumerate(zip(starts, conductivities, strict=True)):
        alone = warm(common_carton(), start=start, conductivity=conductivity, threads=1)
        for both, one in zip(together[1:], alone[1:], strict=True):
            np.testing.assert_array_equal(both[n], one[0])


def test_fish_never_gets_warmer_than_the_air_or_colder_than_it_was():
    for start, outside in itertools.product((-40.0, -18.0, -3.0), (-5.0, 15.0, 45.0)):
        curves = warm(common_carton(), start=start, outside=outside, hours=200, insulation_start=outside)
        low, high = min(start, outside), max(start, outside)
        # The last digit of the table; the warmest part is read from slopes that overshoot where fish cools.
        for reading, slack in ((curves.core, 1e-5), (curves.mean, 1e-5), (curves.warmest, 0.15)):
            assert reading.min() >= low - slack
            assert reading.max() <= high + slack


def test_the_hold_of_air_below_the_limit_never_ends():
    assert hold_hours(warm(common_carton(), outside=-10.0, insulation_start=-10.0, hours=96))[0] == np.inf


def test_a_run_may_end_once_enough_has_softened():
    whole = warm(common_carton(), hours=96)
    short = warm(common_carton(), hours=96, follow=Follow(stop_at=0.05))
    ended = np.isnan(short.softened_share[0])
    assert 0 < ended.sum() < ended.size
    np.testing.assert_array_equal(short.softened_share[0][~ended], whole.softened_share[0][~ended])
    assert hold_hours(short)[0] == hold_hours(whole)[0]


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"outside": np.nan}, "outside"),
        ({"outside": 400.0}, "outside"),
        ({"film": 0.0}, "film"),
        ({"film": np.inf}, "film"),
        ({"conductivity": -0.07}, "insulation_conductivity"),
        ({"insulation_heat": 0.0}, "insulation_heat"),
        ({"insulation_start": np.nan}, "insulation_start"),
        ({"interval": 0.0}, "interval"),
        ({"follow": Follow(intervals=[1000])}, "intervals"),
        ({"which": [3]}, "which"),
    ],
)
def test_what_makes_no_sense_is_refused_by_name(change, words):
    with pytest.raises(ValueError, match=words):
        warm(common_carton(), **change)


def test_a_limit_that_is_passed_from_the_start_gives_no_hold():
    time = np.array([0.0, 3600.0])
    assert conduction.hold(time=time, reading=[[0.2, 0.4]], limit=0.05)[0] == 0.0
    assert conduction.hold(time=time, reading=[[0.0, 0.1]], limit=0.05)[0] == 1800.0
    with pytest.raises(ValueError, match="limit"):
        conduction.hold(time=time, reading=[[0.0, 0.1]], limit=np.nan)
