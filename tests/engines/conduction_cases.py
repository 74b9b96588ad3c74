"""Cartons, thaw laws and weather that the conduction tests share."""

import numpy as np

from coop.engines import conduction
from coop.engines.carton import Carton, load
from coop.engines.conduction import WHOLE, Air, Wall
from coop.engines.conduction_grid import carton_grid
from coop.engines.fish import Flesh

COD = Flesh(water=0.803, protein=0.18, fat=0.006, ash=0.011, freezing_point=-1.0)
"""White fish as in FAO FTP 340; fat and ash fill up to 1."""


CASES = [
    {"start": -18.0, "outside": 30.0},
    {"start": -25.0, "outside": 30.0, "conductivity": 0.12},
    {"start": -18.0, "outside": 20.0, "conductivity": 0.06},
    {"start": -18.0, "outside": 30.0, "mass": 60.0},
]
"""Ordinary, poor and good walls, and an under-filled carton."""


def common_carton(**changes):
    """1.0 × 0.7 × 0.7 m with 10 cm of shavings packed to 150 kg/m³ (Granum: 0.070 W/(m K))."""
    values = {
        "outer_length": 1.0,
        "outer_width": 0.7,
        "outer_height": 0.7,
        "board_thickness": 0.005,
        "board_conductivity": 0.08,
        "insulation": (0.1,) * 6,
        "insulation_conductivity": 0.070,
        "insulation_density": 150.0,
        "stowage_density": 530.0,
    }
    return Carton(**(values | changes))


def warm(carton, *, mass=100.0, start=-18.0, outside=30.0, film=8.0, hours=96, conductivity=None, **changes):
    """Curves of one carton (or of as many as `start` and `conductivity` have) in constant weather."""
    law = changes.get("law") or conduction.thaw_law(flesh=COD, stowage_density=carton.stowage_density)
    start, conductivity = np.broadcast_arrays(start, conductivity or carton.insulation_conductivity)
    shape = (start.size, 2 * hours, 6)
    heat = changes.get("insulation_heat", carton.insulation_density * carton.insulation_specific_heat)
    return conduction.warming(
        grid=changes.get("grid") or grid_of(carton, mass, changes.get("refinement", 1)),
        law=law,
        wall=Wall(heat, carton.board_thickness / carton.board_conductivity, carton.board_thickness),
        start=law.position(start.ravel(), flesh=COD),
        insulation_start=changes.get("insulation_start", np.max(outside)),
        insulation_conductivity=conductivity.ravel(),
        air=Air(
            np.broadcast_to(outside, shape),
            np.broadcast_to(film, shape),
            changes.get("interval", 1800.0),
            changes.get("which"),
        ),
        follow=changes.get("follow", WHOLE),
        threads=changes.get("threads", 2),
    )


def grid_of(carton, mass, refinement=1):
    return carton_grid(carton=carton, load=load(carton, mass), refinement=refinement)


def hold_hours(curves, limit=0.05, reading="softened_share"):
    """Hold h of each carton for one limit."""
    return conduction.hold(time=curves.time, reading=getattr(curves, reading), limit=limit) / 3600
