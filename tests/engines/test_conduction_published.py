"""The conduction engine against solutions that other people have published."""

from dataclasses import replace

import numpy as np
import pytest
from scipy import optimize, special

from coop.engines import conduction
from coop.engines.carton import conductance, load
from coop.engines.conduction import Air, ThawLaw, Wall
from coop.engines.conduction_grid import brick_grid, carton_grid
from coop.engines.fish import enthalpy
from tests.engines.conduction_cases import COD, common_carton, hold_hours, warm

NO_FILM = 1e-12
TOUCHING = 1e9


def constant_law(*, conductivity, density, specific_heat):
    """A body that neither melts nor changes: enthalpy is c (T + 45)."""
    temperature = np.linspace(-45.0, 40.0, 8192)
    step = specific_heat * (temperature[1] - temperature[0])
    return ThawLaw(0.0, step, temperature, np.full(8192, conductivity), 39.0, density)


def melting_law(*, conductivity, density, specific_heat, latent_heat, soft_above):
    """A body that melts at 0 °C sharply."""
    enthalpy = np.linspace(-45.0 * specific_heat, latent_heat + 40.0 * specific_heat, 8192)
    temperature = np.where(
        enthalpy < 0, enthalpy / specific_heat, np.maximum(enthalpy - latent_heat, 0) / specific_heat
    )
    step = enthalpy[1] - enthalpy[0]
    return ThawLaw(enthalpy[0], step, temperature, np.full(8192, conductivity), soft_above, density)


def run_body(grid, law, *, position, outside, film, hours, insulation_heat=1e5):
    shape = (1, round(hours * 6), 6)
    return conduction.warming(
        grid=grid,
        law=law,
        wall=Wall(insulation_heat, 0.0, 0.0),
        start=[position],
        insulation_start=0.0,
        insulation_conductivity=0.07,
        air=Air(np.broadcast_to(outside, shape), np.broadcast_to(film, shape), 600.0),
    )


def slab_centre(half, biot_h, conductivity, diffusivity, time):
    """Series for a slab between two films (Çengel, Heat Transfer, eq. 4-13), 60 terms."""
    biot = biot_h * half / conductivity
    total = 0.0
    for n in range(60):
        low, high = n * np.pi + 1e-9, n * np.pi + np.pi / 2 - 1e-9
        root = optimize.brentq(lambda x: x * np.tan(x) - biot, low, high)
        amplitude = 4 * np.sin(root) / (2 * root + np.sin(2 * root))
        total += amplitude * np.exp(-(root**2) * diffusivity * time / half**2)
    return total


def test_a_constant_brick_follows_the_product_of_series():
    sides, k, density, c, h = (0.60, 0.45, 0.45), 1.8, 990.0, 2000.0, 8.0
    expected = 25 + (-30 - 25) * np.prod(
        [slab_centre(s / 2, h, k, k / (density * c), 6 * 3600) for s in sides]
    )
    # Worked out once more in the reference, section 3.
    assert expected == pytest.approx(-10.78, abs=0.01)
    widths = [np.full(count, side / 2 / count) for side, count in zip(sides, (20, 15, 15), strict=True)]
    grid = brick_grid(widths=widths, fish_from=(0, 0, 0), fish_to=(20, 15, 15), mirrored=(True, True, True))
    law = constant_law(conductivity=k, density=density, specific_heat=c)
    curves = run_body(grid, law, position=15 * c / law.enthalpy_step, outside=25.0, film=h, hours=6)
    assert curves.core[0, -1] == pytest.approx(expected, abs=0.05)


def stefan_lambda(stefan_number):
    return optimize.brentq(
        lambda x: np.sqrt(np.pi) * x * np.exp(x**2) * special.erf(x) - stefan_number, 1e-6, 2
    )


def stefan_front(grid_step, length, law, *, wall, position, hours):
    cells = round(length / grid_step)
    grid = brick_grid(
        widths=(np.full(cells, grid_step), np.ones(1), np.ones(1)), fish_from=(0, 0, 0), fish_to=(cells, 1, 1)
    )
    film = np.full(6, NO_FILM)
    film[0] = TOUCHING
    curves = run_body(grid, law, position=position, outside=wall, film=film, hours=hours)
    return curves.softened_share[0, -1] * length


@pytest.mark.parametrize(("hours", "step", "length"), [(1, 0.0002, 0.03), (24, 0.0005, 0.12)])
def test_a_melting_front_moves_as_stefan_says(hours, step, length):
    """Water at 0 °C, wall at 25 °C (reference, section 3; Neumann's solution in any text on phase change)."""
    k, density, c, latent = 0.60, 1000.0, 4186.0, 333600.0
    root = stefan_lambda(c * 25 / latent)
    assert root == pytest.approx(0.37750, abs=1e-5)
    expected = 2 * root * np.sqrt(k / (density * c) * hours * 3600)
    law = melting_law(conductivity=k, density=density, specific_heat=c, latent_heat=latent, soft_above=1e-6)
    frozen = (0.0 - law.enthalpy_from) / law.enthalpy_step
    front = stefan_front(step, length, law, wall=25.0, position=frozen, hours=hours)
    assert front == pytest.approx(expected, rel=0.01)


def test_a_freezing_front_moves_as_stefan_says():
    """Water at 0 °C, wall at −10 °C (reference, section 3): 22.63 mm after an hour."""
    k, density, c, latent = 2.22, 917.0, 2060.0, 333600.0
    root = stefan_lambda(c * 10 / latent)
    assert root == pytest.approx(0.17395, abs=1e-5)
    expected = 2 * root * np.sqrt(k / (density * c) * 3600)
    assert expected == pytest.approx(22.63e-3, abs=1e-5)
    law = melting_law(conductivity=k, density=density, specific_heat=c, latent_heat=latent, soft_above=-1e-6)
    liquid = (latent - 1e-3 - law.enthalpy_from) / law.enthalpy_step
    unfrozen = stefan_front(0.0002, 0.04, law, wall=-10.0, position=liquid, hours=1)
    assert 0.04 - unfrozen == pytest.approx(expected, rel=0.01)


@pytest.mark.parametrize(("refinement", "tolerance"), [(1, 0.03), (2, 0.015)])
def test_a_box_in_steady_state_leaks_by_its_shape_factor(refinement, tolerance):
    """Inner 0.60 × 0.45 × 0.45 m in 10 cm: 18.21 m by Langmuir's edges and corners (Incropera, Table 4.1),
    18.3 m by a fine three-dimensional solution (reference, section 3). The grid grants the tolerance."""
    inside = {"outer_length": 0.80, "outer_width": 0.65, "outer_height": 0.65, "board_thickness": 0.0}
    carton = common_carton(**inside, stowage_density=1000.0)
    grid = carton_grid(carton=carton, load=load(carton, 121.5), refinement=refinement)
    law = melting_law(conductivity=50.0, density=1e6, specific_heat=1e3, latent_heat=333600.0, soft_above=1.0)
    frozen = (0.0 - law.enthalpy_from) / law.enthalpy_step
    curves = run_body(
        grid,
        law,
        position=frozen,
        outside=25.0,
        film=TOUCHING,
        hours=12,
        insulation_heat=2e4,
    )
    watts = np.diff(curves.heat_gained[0])[-1] / 600
    assert watts / (0.07 * 25) == pytest.approx(18.3, rel=tolerance)


FAO_TABLE_31 = {
    -20: 42.0, -16: 53.1, -12: 66.3, -10: 74.2, -8: 83.7, -6: 96.3, -4: 117.4, -3: 136.9, -2: 176.5
}  # fmt: skip
"""kJ/kg above −40 °C at °C, white fish: FAO Fisheries Technical Paper 340, ch. 19, Table 31."""


def lumped_hours(enthalpy, *, conductance, mass, air, start, end):
    """Hours in which a body of one temperature warms: its heat over what comes in."""
    temperature = np.linspace(start, end, 2001)
    middle = (temperature[1:] + temperature[:-1]) / 2
    return np.sum(mass * np.diff(enthalpy(temperature)) / (conductance * (air - middle))) / 3600


def test_fish_that_conducts_very_well_warms_as_a_lump():
    """100 kg of cod in 0.60 × 0.45 × 0.45 m, 10 cm of k 0.07, h 8, 25 °C: −18 → −5 °C in 39, → −2 °C in 96 h
    for lumped fish in walls that hold no heat (reference, section 3). A twentieth is granted for Langmuir's
    edges and corners, and twenty-fold conduction in place of none, leave over."""
    carton = common_carton(outer_length=0.80, outer_width=0.65, outer_height=0.65, board_thickness=0.0,
                           stowage_density=825.0)  # fmt: skip
    case = {"conductance": conductance(carton, load(carton, 100.0), film=8.0), "mass": 100.0, "air": 25.0}
    table = {"x": list(FAO_TABLE_31), "y": [1e3 * kj for kj in FAO_TABLE_31.values()]}
    for end, hours in ((-5.0, 39), (-2.0, 96)):
        by_table = lumped_hours(lambda t: np.interp(t, table["x"], table["y"]), start=-18.0, end=end, **case)
        assert by_table == pytest.approx(hours, rel=0.05)
    real = conduction.thaw_law(flesh=COD, stowage_density=825.0)
    conditions = {"outside": 25.0, "insulation_start": -18.0, "insulation_heat": 5e3, "hours": 130}
    lump = warm(carton, law=replace(real, conductivity=20 * real.conductivity), **conditions)
    fish = warm(carton, **conditions)
    for end in (-5.0, -2.0):
        expected = lumped_hours(lambda t: enthalpy(t, flesh=COD), start=-18.0, end=end, **case)
        assert hold_hours(lump, end, "mean")[0] == pytest.approx(expected, rel=0.05)
    # Real fish is warmer at its face than in its middle, so less heat comes in and its mean lags.
    assert hold_hours(fish, -5.0, "mean")[0] > hold_hours(lump, -5.0, "mean")[0]
