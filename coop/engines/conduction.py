"""How the fish in a carton warms: transient conduction in three dimensions on enthalpy.

Melting costs heat because the state of a fish cell is its enthalpy; the temperature follows from it. What a
carton gains through its faces is what its cells have stored, to round-off.
"""

from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from coop.engines import fish
from coop.engines.carton import BOARD_DENSITY
from coop.engines.conduction_run import Case, Cells, Clock, Law, Readings, run_share

TABLE_ENTRIES = 8192
COLDEST, HOTTEST = -45.0, 40.0
BOARD_SPECIFIC_HEAT = 1400.0
"""J/(kg K) of paper, from memory."""


@dataclass(frozen=True)
class ThawLaw:
    """Temperature and conductivity of stacked fish over enthalpy, on a table uniform in enthalpy."""

    enthalpy_from: float
    enthalpy_step: float
    temperature: np.ndarray
    conductivity: np.ndarray
    soft_above: float
    density: float

    def position(self, temperature, *, flesh):
        return (
            fish.enthalpy(np.asarray(temperature, float), flesh=flesh) - self.enthalpy_from
        ) / self.enthalpy_step


class Wall(NamedTuple):
    """Heat J/(m³ K) that a degree takes of the insulation; the board's resistance m² K/W, thickness m."""

    insulation_heat: float
    board_resistance: float
    board_thickness: float


class Air(NamedTuple):
    """What w weathers do at the six faces, (w, m, 6): outside °C and film W/(m² K), means of m intervals s.

    `which` weather each of n cartons meets; None is one each. Outside is sol-air where the sun shines.
    """

    outside: np.ndarray
    film: np.ndarray
    interval: float
    which: np.ndarray | None = None


class Follow(NamedTuple):
    """How long each carton is followed and what is read.

    Intervals (n,) or None for all; every how many of them a reading is taken, the fish's conductivity
    renewed; the softened share at which a run may end; the share of the fish that counts as warmest.
    """

    intervals: np.ndarray | None = None
    read_every: int = 1
    refresh_every: int = 4
    stop_at: float = np.inf
    warmest_share: float = 0.05


WHOLE = Follow()
"""Every interval, every reading."""


class Curves(NamedTuple):
    """What happens in n cartons at m instants; NaN after the hour at which a run was stopped."""

    time: np.ndarray
    core: np.ndarray
    mean: np.ndarray
    warmest: np.ndarray
    softened_share: np.ndarray
    heat_gained: np.ndarray
    heat_stored: np.ndarray


def thaw_law(*, flesh, stowage_density):
    """Temperature and conductivity of stacked fish over its enthalpy, from −45 to +40 °C.

    flesh             fish.Flesh   one species
    stowage_density   float        kg/m³ of fish as it lies in the carton, air gaps and all

    Returns ThawLaw.
    Raises ValueError for what fish.enthalpy and fish.stacked_conductivity refuse.
    Source: fish.enthalpy (Chen 1985) and fish.stacked_conductivity (Levy 1981; Maxwell–Eucken).
    """
    coldest, hottest = fish.enthalpy(np.array([COLDEST, HOTTEST]), flesh=flesh)
    enthalpy = np.linspace(coldest, hottest, TABLE_ENTRIES)
    temperature = np.clip(fish.temperature(enthalpy, flesh=flesh), COLDEST, HOTTEST)
    return ThawLaw(
        enthalpy_from=float(coldest),
        enthalpy_step=float(enthalpy[1] - enthalpy[0]),
        temperature=temperature,
        conductivity=fish.stacked_conductivity(temperature, flesh=flesh, stowage_density=stowage_density),
        soft_above=float(fish.half_frozen_temperature(flesh=flesh)),
        density=float(stowage_density),
    )


def warming(
    *, grid, law, wall, start, insulation_start, insulation_conductivity, air, follow=WHOLE, threads=1
):
    """Warming of n cartons of one design, side by side on all cores.

    grid                      Grid      –           conduction_grid.carton_grid
    law                       ThawLaw   –           thaw_law
    wall                      Wall      –           insulation_heat > 0
    start                     (n,)      –           position of the fish in the law's table, ThawLaw.position
    insulation_start          (n,)      °C          insulation when the carton is closed, −45…+70
    insulation_conductivity   (n,)      W/(m K)     > 0
    air                       Air       –           film > 0, outside −45…+120 °C
    follow                    Follow    –           at most m intervals
    threads                   int       –           cores to use, ≥ 1

    Returns Curves: instants s, temperatures °C, shares, heat J into the whole carton.
    Raises ValueError for a value that is not finite or out of range, with its name.
    Source: finite volumes, explicit in time; Patankar (1980), Numerical Heat Transfer and Fluid Flow, ch. 4.
    """
    case, clock = _case(wall, start, insulation_start, insulation_conductivity, air), _clock(air, follow)
    count = len(case.weather)
    shape = (count, case.outside.shape[1] // clock.read_every + 1)
    readings = Readings(*(np.full(shape, np.nan) for _ in Readings._fields))
    clock = clock._replace(intervals=np.array(np.broadcast_to(clock.intervals, (count,))))
    _in_threads(count, threads, (_cells(grid), _law(law), case, clock, readings))
    time = np.arange(shape[1]) * air.interval * clock.read_every
    heat = (grid.symmetry * readings.heat_gained, grid.symmetry * readings.heat_stored)
    return Curves(time, *readings[:4], *heat)


def hold(*, time, reading, limit):
    """Time until a reading first passes a limit, by straight lines between readings.

    time      (m,)     s   instants of the readings, rising
    reading   (n, m)   –   softened share or a temperature; NaN where a run had ended
    limit     float    –   in the unit of the reading

    Returns (n,) s; 0 where the limit is passed from the start, inf where it is never passed.
    Raises ValueError for a limit that is not finite.
    Source: No source: linear interpolation.
    """
    if not np.isfinite(limit):
        raise ValueError(f"limit must be finite, not {limit}")
    reading = np.asarray(reading, float)
    passed = reading > limit
    after = passed.argmax(axis=1)
    rows = np.arange(len(reading))
    before = np.maximum(after - 1, 0)
    low, high = reading[rows, before], reading[rows, after]
    with np.errstate(invalid="ignore", divide="ignore"):
        crossing = time[before] + (limit - low) / (high - low) * (time[after] - time[before])
    return np.where(passed.any(axis=1), np.where(after == 0, time[0], crossing), np.inf)


def _case(wall, start, insulation_start, insulation_conductivity, air):
    outside, film = _table(air.outside), _table(air.film)
    which = np.arange(len(outside)) if air.which is None else np.asarray(air.which)
    _require_positive(insulation_heat=wall.insulation_heat, film=film)
    _require_positive(insulation_conductivity=insulation_conductivity)
    _require_between("outside", outside, COLDEST, 120.0)
    _require_between("insulation_start", insulation_start, -45.0, 70.0)
    _require_between("start", start, 0.0, TABLE_ENTRIES - 2)
    _require_between("which", which, 0, len(outside) - 1)
    return Case(
        *(_vector(len(which), values) for values in (start, insulation_start, insulation_conductivity)),
        which.astype(np.int64),
        outside,
        film,
        float(wall.insulation_heat),
        float(wall.board_resistance),
        wall.board_thickness * BOARD_DENSITY * BOARD_SPECIFIC_HEAT,
    )


def _clock(air, follow):
    longest = np.shape(air.outside)[1]
    intervals = np.asarray(longest if follow.intervals is None else follow.intervals, dtype=np.int64)
    _require_positive(interval=air.interval, read_every=follow.read_every, refresh_every=follow.refresh_every)
    _require_between("intervals", intervals, 0, longest)
    pace = (
        int(follow.read_every),
        int(follow.refresh_every),
        float(follow.stop_at),
        float(follow.warmest_share),
    )
    return Clock(float(air.interval), intervals, *pace)


def _cells(grid):
    arrays = (np.array(getattr(grid, name)) for name in ("fish_from", "fish_to", "mirrored"))
    rest = (getattr(grid, name) for name in Cells._fields[6:])
    return Cells(*(_table(width) for width in grid.widths), *arrays, *rest)


def _law(law):
    slope = np.diff(law.temperature)
    return Law(
        law.temperature,
        slope,
        law.conductivity,
        float(law.conductivity.max()),
        float(law.enthalpy_step / slope.max()),
        law.enthalpy_step,
        law.soft_above,
        law.density,
    )


def _table(values):
    """Writable and in order: an array of any other kind would make the compiler start anew."""
    return np.require(values, float, ["C_CONTIGUOUS", "WRITEABLE"])


def _vector(count, values):
    return np.array(np.broadcast_to(values, (count,)), dtype=float)


def _require_positive(**values):
    for name, value in values.items():
        array = np.asarray(value)
        bad = ~(np.isfinite(array) & (array > 0))
        if bad.any():
            raise ValueError(f"{name} must be positive, not {array[bad].flat[0]}")


def _require_between(name, value, low, high):
    value = np.asarray(value)
    bad = ~((value >= low) & (value <= high))
    if bad.any():
        raise ValueError(f"{name} must lie between {low} and {high}, not {value[bad].flat[0]}")


def _in_threads(count, threads, work):
    """Splits the scenarios over the cores; the compiled run releases the interpreter's lock."""
    workers = min(threads, count)
    # Four shares a worker even out runs that end early.
    edges = np.unique(np.linspace(0, count, 4 * workers + 1).astype(int)).tolist()
    shares = list(pairwise(edges))
    if workers <= 1:
        for first, behind in shares:
            run_share(first, behind, *work)
        return
    with ThreadPoolExecutor(workers) as pool:
        for job in [pool.submit(run_share, first, behind, *work) for first, behind in shares]:
            job.result()
