"""When fish is frozen: worked examples of textbooks, and finite volumes that know none of the formulas."""

from dataclasses import dataclass

import numpy as np
import pytest

from coop.engines import fish
from coop.engines.freezing import (
    freezing_time,
    freezing_time_pham,
    freezing_time_plank,
    heat_before_and_after_freezing,
    mean_freezing_temperature_pham,
    tail_time,
    time_to_measured_core,
)
from coop.engines.freezing_shape import PLANK_SLAB, PLANK_SPHERE, Body
from tests.engines.freezing_oracle import COD, times_to

HOUR = 3600.0
SHAPES = {1: Body("slab", 0.1), 2: Body("cylinder", 0.1), 3: Body("ellipsoid", 0.1, 1, 1)}


def test_a_ball_of_7_cm_is_ice_after_72_hundredths_of_an_hour_by_plank():
    """Singh & Heldman, Introduction to Food Engineering, Example 7.1 (from memory): 2.6 × 10³ s, 0.72 h."""
    time = freezing_time_plank(
        thickness=0.07, factors=PLANK_SPHERE, film=50, conductivity=1.2, latent_heat=250e6,
        freezing_point=-1.25, air=-40,
    )  # fmt: skip
    assert time == pytest.approx(2.6e3, abs=50)
    assert time / HOUR == pytest.approx(0.72, abs=0.005)


def test_meat_between_plates_is_ice_after_4_11_hours_by_plank():
    """Earle, Unit Operations in Food Processing: 0.1 m, plates −34 °C, card of 1 mm on each side; data and
    answer by the reference of this project, § 3, three figures."""
    time = freezing_time_plank(
        thickness=0.1, factors=PLANK_SLAB, film=54.5, conductivity=1.6, latent_heat=1090 * 2.56e5,
        freezing_point=-2, air=-34,
    )  # fmt: skip
    assert time / HOUR == pytest.approx(4.11, abs=0.005)


def test_the_same_ball_takes_1_09_hours_to_minus_18_by_pham():
    """Singh & Heldman, Example 7.2 (from memory): 1.09 h; cp 3.6 and 1.8 kJ/(kg K), 1 000 kg/m³."""
    mean = mean_freezing_temperature_pham(core=-18, air=-40)
    assert mean == pytest.approx(-7.134, abs=5e-4)
    time = freezing_time_pham(
        half=0.035, dimensions=3, film=50, conductivity=1.2, initial=10, core=-18, air=-40,
        precooling=1000 * 3600 * (10 - mean), freezing=1000 * (250e3 + 1800 * (mean + 18)),
    )  # fmt: skip
    assert time / HOUR == pytest.approx(1.09, abs=0.005)


@dataclass(frozen=True)
class Case:
    """Half thickness m, film, air, initial, and the cores that are asked for."""

    half: float
    film: float
    air: float
    initial: float
    cores: tuple = (-10.0, -15.0, -18.0)


CASES = [
    Case(0.02, 8.0, -25.0, 20.0),
    Case(0.05, 25.0, -30.0, 10.0),
    Case(0.03, 50.0, -35.0, 5.0),
    Case(0.03, 5.0, -20.0, 25.0),
    Case(0.08, 10.0, -19.0, 15.0),
]


@pytest.mark.parametrize("dimensions", [1, 2, 3])
@pytest.mark.parametrize("case", CASES)
def test_fish_is_frozen_when_finite_volumes_say_so_within_10_per_cent(case, dimensions):
    """Pham 1986 grants his formula ±10 %; slab, long cylinder and sphere, still air to plates."""
    measured = times_to(
        case.cores, half=case.half, dimensions=dimensions, film=case.film, air=case.air, initial=case.initial
    )
    said = freezing_time(
        body=SHAPES[dimensions]._replace(thickness=2 * case.half), film=case.film, air=case.air,
        initial=case.initial, core=np.array(case.cores), flesh=COD,
    )  # fmt: skip
    np.testing.assert_allclose(said, measured, rtol=0.10)


USUAL = {"body": Body("ellipsoid", 0.06, 2, 5), "film": 8.0, "air": -25.0, "initial": 20.0, "core": -18.0}


def usual(**changes):
    return freezing_time(**(USUAL | changes), flesh=COD)


@pytest.mark.parametrize(
    ("slower", "quicker"),
    [
        ({"body": Body("ellipsoid", 0.08, 2, 5)}, {}),
        ({"body": Body("brick", 0.06, 2, 5)}, {}),
        ({"body": Body("slab", 0.06)}, {"body": Body("brick", 0.06, 2, 5)}),
        ({"film": 5.0}, {}),
        ({"air": -20.0}, {}),
        ({"initial": 30.0}, {}),
        ({"core": -20.0}, {}),
        ({}, {"core": -10.0}),
    ],
)
def test_thicker_warmer_and_stiller_is_slower(slower, quicker):
    assert usual(**slower) > usual(**quicker)


def test_ever_more_wind_leaves_the_way_through_the_fish():
    slab = Body("slab", 0.06)
    windy, windier = (usual(body=slab, film=film) for film in (1e4, 1e6))
    assert windier == pytest.approx(windy, rel=0.03)
    assert usual(body=slab._replace(thickness=0.12), film=1e6) == pytest.approx(4 * windier, rel=0.01)


def test_behind_a_poor_film_the_time_goes_with_the_thickness():
    thin, thick = (usual(body=Body("slab", thickness), film=1e-3) for thickness in (0.03, 0.06))
    assert thick == pytest.approx(2 * thin, rel=1e-3)


def test_plank_is_always_short_of_the_real_time():
    """He leaves out what comes before the first ice and after the last."""
    conductivity = fish.flesh_conductivity(-10, flesh=COD)
    heat = fish.flesh_density(0, flesh=COD) * (fish.latent_heat(flesh=COD) - 0.4 * 0.1781 * 333.6e3)
    for film in (5.0, 20.0, 60.0):
        plank = freezing_time_plank(
            thickness=0.06, factors=PLANK_SLAB, film=film, conductivity=conductivity, latent_heat=heat,
            freezing_point=-1.0, air=-25.0,
        )  # fmt: skip
        assert plank < usual(body=Body("slab", 0.06), film=film, core=-10.0)


def test_heat_above_and_below_is_all_the_heat_of_the_fish():
    above, below = heat_before_and_after_freezing(initial=20.0, core=-18.0, air=-25.0, flesh=COD)
    fall = fish.enthalpy(20.0, flesh=COD) - fish.enthalpy(-18.0, flesh=COD)
    assert above + below == pytest.approx(fall * fish.flesh_density(20.0, flesh=COD))
    assert 0 < above < below


def test_fish_never_comes_down_to_the_air_itself():
    times = usual(core=np.array([-24.0, -24.9, -24.99, -25.0, -30.0]))
    assert np.all(np.diff(times[:3]) > 0)
    assert list(times[3:]) == [np.inf, np.inf]


def test_a_time_is_that_to_minus_10_and_the_rest():
    shared = {"body": USUAL["body"], "film": 8.0, "air": -25.0, "flesh": COD}
    parts = time_to_measured_core(initial=20.0, **shared), tail_time(core=-18.0, **shared)
    assert sum(parts) == usual()
    assert tail_time(core=-10.0, **shared) == 0


def test_an_array_equals_its_scalars():
    for name, values in {
        "film": np.array([5.0, 20.0]),
        "air": np.array([-20.0, -35.0]),
        "initial": np.array([5.0, 30.0]),
        "core": np.array([-10.0, -18.0, -40.0]),
    }.items():
        together = usual(**{name: values})
        np.testing.assert_allclose(together, [usual(**{name: one}) for one in values], rtol=1e-12)
    thick = np.array([0.03, 0.06])
    together = usual(body=Body("ellipsoid", thick, 2, 5))
    np.testing.assert_allclose(
        together, [usual(body=Body("ellipsoid", one, 2, 5)) for one in thick], rtol=1e-12
    )


@pytest.mark.parametrize(
    ("changes", "named"),
    [
        ({"film": 0.0}, "film must be positive and finite, not 0.0"),
        ({"film": np.nan}, "film .* not nan"),
        ({"air": -14.0}, "air must be between -45 and -15 °C, not -14.0"),
        ({"air": -50.0}, "air .* not -50.0"),
        ({"initial": -1.0}, "initial must be between 0 and 40 °C, not -1.0"),
        ({"initial": np.nan}, "initial .* not nan"),
        ({"core": -9.0}, "core must be between -45 and -10 °C, not -9.0"),
        ({"core": np.array([-18.0, -60.0])}, "core .* not -60.0"),
        ({"body": Body("slab", -0.1)}, "body.thickness .* not -0.1"),
    ],
)
def test_what_cannot_be_is_refused(changes, named):
    with pytest.raises(ValueError, match=named):
        usual(**changes)


PLAIN = {
    "half": 0.03, "dimensions": 1, "film": 8, "conductivity": 1.4, "precooling": 1e8, "freezing": 3e8,
    "initial": 20, "core": -18, "air": -25,
}  # fmt: skip


@pytest.mark.parametrize(
    ("changes", "named"),
    [
        ({"half": 0}, "half .* not 0.0"),
        ({"precooling": -1}, "precooling .* not -1.0"),
        ({"initial": -60}, "initial must be above the air"),
        ({"air": 0}, "air must be below the mean freezing temperature"),
        ({"core": np.inf}, "core must be finite, not inf"),
    ],
)
def test_phams_formula_refuses_what_it_has_no_answer_for(changes, named):
    with pytest.raises(ValueError, match=named):
        freezing_time_pham(**(PLAIN | changes))


def test_planks_formula_refuses_what_it_has_no_answer_for():
    plain = {"thickness": 0.1, "factors": PLANK_SLAB, "film": 8, "conductivity": 1.4, "latent_heat": 2e8}
    with pytest.raises(ValueError, match="freezing_point − air must be above 0 K, not -1"):
        freezing_time_plank(**plain, freezing_point=-2, air=-1)
    with pytest.raises(ValueError, match="conductivity must be positive"):
        freezing_time_plank(**(plain | {"conductivity": 0}), freezing_point=-2, air=-10)
