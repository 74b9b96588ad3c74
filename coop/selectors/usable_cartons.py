"""Which cartons fish can be followed in: said before anything is worked out."""

import math

import numpy as np

from coop.engines import fish
from coop.engines.carton import FACES
from coop.engines.conduction_grid import (
    FISH_CELLS_HALF,
    INSULATION_CELL,
    INSULATION_CELLS_MIN,
    INSULATION_MIN,
)
from coop.errors import Problem
from coop.selectors.engine_inputs import carton_of, flesh_of, lognormal_sigma

STEP_A_CELL = 0.003
"""s of time step for each cell of the grid: with less, four days would take more than about a second."""
POOREST = 3.0
"""Deviations of the poorest wall that departures follow, of the logarithm of its conductivity."""
FACES_OF_A_CELL = 6


def fault_of(carton, flesh, *, conductivity_cv, poorest=POOREST):
    """The Problem with walls or stowage that keeps fish in this carton from being followed, or None.

    poorest is how many deviations the poorest wall that is followed conducts better.
    """
    return (
        too_thin(carton)
        or too_quick(carton, math.exp(poorest * lognormal_sigma(conductivity_cv)))
        or too_dense(carton, flesh)
    )


def too_thin(carton):
    face, thickness = thinnest(carton)
    if thickness >= INSULATION_MIN:
        return None
    return Problem(
        f"insulation_{face}_m", thickness, "is too thin to be worked out", f"at least {INSULATION_MIN} m"
    )


def thinnest(carton):
    return min(zip(FACES, carton.insulation, strict=True), key=lambda wall: wall[1])


def too_quick(carton, factor):
    """Insulation that conducts so well and holds so little heat that its steps would be too many."""
    _, thickness = thinnest(carton)
    width = min(thickness / INSULATION_CELLS_MIN, INSULATION_CELL)
    heat = carton.insulation_density * carton.insulation_specific_heat * width**2
    most = heat / (FACES_OF_A_CELL * STEP_A_CELL * cells_of(carton) * factor)
    if carton.insulation_conductivity <= most:
        return None
    right = f"at most {math.floor(most * 1000) / 1000:g} W/(m K) in walls so thin and light, or thicker walls"
    return Problem(
        "insulation_conductivity_w_m_k", carton.insulation_conductivity, "lets heat through at once", right
    )


def cells_of(carton):
    """About how many cells conduction_grid cuts a carton into."""
    left, right, front, back, bottom, top = (
        max(INSULATION_CELLS_MIN, round(wall / INSULATION_CELL)) for wall in carton.insulation
    )
    length, width, height = FISH_CELLS_HALF
    # Halves that are alike are computed once.
    along = length + left if carton.insulation[0] == carton.insulation[1] else 2 * length + left + right
    across = width + front if carton.insulation[2] == carton.insulation[3] else 2 * width + front + back
    return along * across * (2 * height + bottom + top)


def too_dense(carton, flesh):
    temperatures = np.linspace(fish.COLDEST, fish.HOTTEST, 35)
    solid = float(np.min(fish.flesh_density(temperatures, flesh=flesh)))
    if carton.stowage_density <= solid:
        return None
    right = f"at most {math.floor(solid)} kg/m³, and 400 to 550 for single fish"
    return Problem(
        "stowage_density_kg_m3", carton.stowage_density, "is more than solid fish weighs frozen", right
    )


def fault_of_design(design, species):
    """The Problem with a stored design, named by the design: nobody who asks can mend its walls."""
    fault = fault_of(carton_of(design), flesh_of(species), conductivity_cv=design.insulation_conductivity_cv)
    if fault is None:
        return None
    problem, right = f"its {fault.field} {fault.problem}", f"{fault.right}, or another design"
    return Problem("carton_design", design.slug, problem, right)
