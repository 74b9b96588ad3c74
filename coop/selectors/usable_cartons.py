"""Which cartons fish can be followed in: said before anything is worked out."""

import math

import numpy as np

from coop.engines import fish
from coop.engines.carton import FACES
from coop.engines.conduction_grid import INSULATION_CELL, INSULATION_MIN
from coop.errors import Problem
from coop.selectors.engine_inputs import carton_of, flesh_of, lognormal_sigma

QUICKEST = 1.0
"""s. A cell of insulation that settles sooner insulates nothing, and would take for ever to compute."""
POOREST = 3.0
"""Deviations of the poorest wall that is followed, of the logarithm of its conductivity."""
FACES_OF_A_CELL = 6


def fault_of(carton, flesh, *, conductivity_cv):
    """The Problem with walls or stowage that keeps fish in this carton from being followed, or None."""
    return too_thin(carton) or too_quick(carton, conductivity_cv) or too_dense(carton, flesh)


def too_thin(carton):
    face, thickness = thinnest(carton)
    if thickness >= INSULATION_MIN:
        return None
    return Problem(
        f"insulation_{face}_m", thickness, "is too thin to be worked out", f"at least {INSULATION_MIN} m"
    )


def thinnest(carton):
    return min(zip(FACES, carton.insulation, strict=True), key=lambda wall: wall[1])


def too_quick(carton, conductivity_cv):
    """Insulation that conducts so well and holds so little heat that no time step is short enough."""
    _, thickness = thinnest(carton)
    cell = min(thickness / 2, INSULATION_CELL)
    heat = carton.insulation_density * carton.insulation_specific_heat * cell**2
    poorest = math.exp(POOREST * lognormal_sigma(conductivity_cv))
    most = heat / (FACES_OF_A_CELL * QUICKEST * poorest)
    if carton.insulation_conductivity <= most:
        return None
    right = f"at most {math.floor(most * 1000) / 1000:g} W/(m K) in walls so thin and light, or thicker walls"
    return Problem(
        "insulation_conductivity_w_m_k", carton.insulation_conductivity, "lets heat through at once", right
    )


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
