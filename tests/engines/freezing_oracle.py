"""Freezing followed cell by cell: finite volumes on enthalpy, which know nothing of Plank or Pham."""

import numba
import numpy as np

from coop.engines import fish
from coop.engines.fish import Flesh

COD = Flesh(water=0.8122, protein=0.1781, fat=0.0067, ash=0.0116)
"""From memory of ASHRAE Handbook, Refrigeration, Thermal properties of foods, Table 3."""
TEMPERATURES = np.linspace(-45, 40, 8501)
LEAST_HEAT_CAPACITY = 1700.0
"""J/(kg K): less than of any fish between −45 and +40 °C, so that no step is too long."""


def times_to(cores, *, half, dimensions, film, air, initial, extraction=np.inf, flesh=COD, cells=12):
    """s until the centre of a slab (1), cylinder (2) or sphere (3) passes each of `cores`, falling.

    extraction W is the most that leaves a kilogram.
    """
    start, density, tables, diffusivity = _properties(flesh, initial)
    edges = np.linspace(0, half, cells + 1)
    areas, volumes = edges ** (dimensions - 1), np.diff(edges**dimensions) / dimensions
    width = half / cells
    return _follow(
        np.full(cells, start), np.array(cores), tables, areas, volumes * density, width,
        film, air, extraction * density * volumes.sum(), 0.2 * width**2 / diffusivity,
    )  # fmt: skip


def brick_time_to(core, *, half, ratios, film, air, initial, flesh=COD, cells=6):
    """s until the centre of a brick passes `core`; an eighth of it, of three half sides."""
    start, density, tables, diffusivity = _properties(flesh, initial)
    counts = [min(24, round(cells * ratio)) for ratio in (1, *ratios)]
    widths = np.array([half * ratio / count for ratio, count in zip((1, *ratios), counts, strict=True)])
    step = 0.4 / diffusivity / (2 / widths**2).sum()
    return _follow_brick(np.full(counts, start), core, tables, density, widths, film, air, step)


def _properties(flesh, initial):
    enthalpies = fish.enthalpy(TEMPERATURES, flesh=flesh)
    conductivities = fish.flesh_conductivity(TEMPERATURES, flesh=flesh)
    density = float(fish.flesh_density(initial, flesh=flesh))
    diffusivity = conductivities.max() / (density * LEAST_HEAT_CAPACITY)
    return (
        float(fish.enthalpy(initial, flesh=flesh)),
        density,
        (enthalpies, TEMPERATURES, conductivities),
        diffusivity,
    )


@numba.njit
def _follow(enthalpy, cores, tables, areas, masses, width, film, air, most, step):
    """Steps until every core was passed."""
    enthalpies, temperatures, conductivities = tables
    flow = np.zeros(enthalpy.size + 1)
    found, time, passed = np.zeros(cores.size), 0.0, 0
    while passed < cores.size:
        t = np.interp(enthalpy, enthalpies, temperatures)
        k = np.interp(enthalpy, enthalpies, conductivities)
        between = width / 2 / k[1:] + width / 2 / k[:-1]
        flow[1:-1] = areas[1:-1] * (t[:-1] - t[1:]) / between
        flow[-1] = min(areas[-1] * (t[-1] - air) / (1 / film + width / 2 / k[-1]), most)
        enthalpy -= step * (flow[1:] - flow[:-1]) / masses
        time += step
        while passed < cores.size and t[0] <= cores[passed]:
            found[passed] = time
            passed += 1
    return found


@numba.njit
def _follow_brick(enthalpy, core, tables, density, widths, film, air, step):
    """Steps until the corner cell, which is the centre of the brick, has passed the core."""
    enthalpies, temperatures, conductivities = tables
    time, shape = 0.0, enthalpy.shape
    while True:
        t = np.interp(enthalpy.ravel(), enthalpies, temperatures).reshape(shape)
        if t[0, 0, 0] <= core:
            return time
        k = np.interp(enthalpy.ravel(), enthalpies, conductivities).reshape(shape)
        for cell in np.ndindex(shape):
            for axis in range(3):
                half = widths[axis] / 2
                if cell[axis] == shape[axis] - 1:
                    out = (t[cell] - air) / (1 / film + half / k[cell])
                else:
                    beyond = (cell[0] + (axis == 0), cell[1] + (axis == 1), cell[2] + (axis == 2))
                    out = (t[cell] - t[beyond]) / (half / k[cell] + half / k[beyond])
                    enthalpy[beyond] += step * out / (widths[axis] * density)
                enthalpy[cell] -= step * out / (widths[axis] * density)
        time += step
