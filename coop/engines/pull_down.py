"""How a freezer with a load comes down: the fish and the machine together, the energy, and its cost."""

from typing import NamedTuple

import numpy as np

from coop.engines import fish
from coop.engines.freezing import (
    MEASURED_CORE,
    UNCERTAINTY,
    heat_before_and_after_freezing,
    mean_freezing_temperature_pham,
    tail_time,
    time_to_measured_core,
)
from coop.engines.freezing_shape import Body, dimensions
from coop.engines.money import MOST_MINOR, exact, whole

DAY = 86_400.0
JOULES_IN_KILOWATT_HOUR = 3.6e6
RATED_START, RATED_END = 25.0, -18.0
"""°C between which a freezing capacity in kg a day is stated; IEC 62552:2007, from memory."""
PARTS = 400
"""Into which the heat of each stage is cut: with twice as many a pull-down moves by less than 0.1 %."""
NEAREST_AIR = 0.05
"""K above the air at which the curve ends: fish comes no nearer to it in any time that counts."""


class Freezer(NamedTuple):
    """A freezer at work: air °C, film W/(m² K), and the heat W that it takes from fish besides its own."""

    air: float
    film: float
    extraction: float = np.inf


class Curve(NamedTuple):
    """How a load cools, each (n,): time s, core °C, and heat J taken from the whole load until then.

    Before its first hour below −10 °C nothing is promised but that the core is no warmer than at the start.
    """

    time: np.ndarray
    core: np.ndarray
    heat: np.ndarray
    initial: float


def rated_extraction(mass_per_day, *, flesh):
    """Heat that a freezer takes from fish, by the kilograms a day that it is said to freeze.

    mass_per_day   (n,)    kg   frozen in 24 h, from +25 to −18 °C, > 0
    flesh          Flesh   –    composition of what is frozen

    Returns (n,) W.
    Raises ValueError for a mass that is not positive, or a composition that cannot be.
    Source: IEC 62552:2007 (from memory) for what such a figure means; a test package counts as this fish.
    """
    mass = np.asarray(mass_per_day, float)
    _require("mass_per_day", mass, (mass > 0) & np.isfinite(mass), "positive and finite")
    return (mass * heat_removed(initial=RATED_START, final=RATED_END, flesh=flesh) / DAY)[()]


def heat_removed(*, initial, final, flesh):
    """Heat that a kilogram of fish gives off.

    initial   (n,)    °C   −45…+40
    final     (n,)    °C   −45…+40, not above the initial
    flesh     Flesh   –    composition

    Returns (n,) J/kg.
    Raises ValueError for temperatures out of range or order, or a composition that cannot be.
    Source: Chen 1985, as `fish.enthalpy`.
    """
    fall = fish.enthalpy(initial, flesh=flesh) - fish.enthalpy(final, flesh=flesh)
    _require("final", final, fall >= 0, "not above the initial temperature")
    return fall


def pull_down(*, body, freezer, mass, initial, flesh, margin=UNCERTAINTY):
    """How a load of fish comes down that is put into a freezer at once.

    body      Body      –    freezing_shape.Body of one piece, all alike
    freezer   Freezer   –    its air between −45 and −15 °C; extraction may be inf
    mass      float     kg   of the whole load, > 0
    initial   float     °C   of the fish that comes in, 0…40
    flesh     Flesh     –    composition
    margin    float     –    by how much the fish may be slower than Pham has it, 0 for the best estimate

    Returns Curve from −10 °C down. Each part of the heat takes as long as the fish needs to give it off to
        air of the freezer's, or the machine to take it away, whichever is longer: as long as the machine is
        outrun the air warms until both agree. So it is the longer of both ways at least, their sum at most.
    Raises ValueError for a value out of range, a shape that is not known or an impossible composition.
    Source: Pham 1986; the course in between by Plank's moving front. The rule of the longer is plain balance.
    """
    _require_load(freezer, mass, margin)
    slower = 1 + margin
    slow = slower * time_to_measured_core(
        body=body, film=freezer.film, air=freezer.air, initial=initial, flesh=flesh
    )
    heats = _stage_heats(freezer, mass, initial, flesh)
    stages = _stage_times(freezer, initial, heats) * slow
    course = _course(body, freezer, flesh)
    frozen = sum(
        np.maximum(time * course, heat / PARTS / freezer.extraction).sum()
        for time, heat in zip(stages, heats, strict=True)
    )
    core, spent, tail_heat = _tail(body, freezer, mass, flesh)
    waits = np.maximum(
        np.diff(spent, prepend=0.0) * slower, np.diff(tail_heat, prepend=0.0) / freezer.extraction
    )
    return Curve(frozen + np.cumsum(waits), core, heats.sum() + tail_heat, float(initial))


def time_to_core(curve, core):
    """Time until the core of a load is as cold as wanted.

    curve   Curve   –    of `pull_down`
    core    (n,)    °C   −45…−10

    Returns (n,) s, inf for what is not warmer than the freezer's air.
    Raises ValueError for a core that is warmer than −10 °C.
    Source: No source: read off between the points of the curve.
    """
    core = np.asarray(core, float)
    _require("core", core, (core <= MEASURED_CORE) & (core >= fish.COLDEST), "between −45 and −10 °C")
    found = np.interp(-core, -curve.core, curve.time)
    return np.where(core < curve.core[-1], np.inf, found)[()]


def core_after(curve, time):
    """What the core of a load is at most, after some time in the freezer.

    curve   Curve   –   of `pull_down`
    time    (n,)    s   ≥ 0

    Returns (n,) °C, never colder than the freezer's air; the initial temperature until −10 °C is reached:
        the core is the last to cool, and what it has in between no formula of freezing times tells.
    Raises ValueError for a time that is negative or not finite.
    Source: No source: read off between the points of the curve.
    """
    time = np.asarray(time, float)
    _require("time", time, (time >= 0) & np.isfinite(time), "0 s or more, and finite")
    found = np.interp(time, curve.time, curve.core)
    return np.where(time < curve.time[0], curve.initial, found)[()]


def electric_energy(*, heat, time, coefficient_of_performance, standing):
    """Electricity that freezing takes.

    heat                         (n,)   J   taken from the fish, ≥ 0
    time                         (n,)   s   for which the freezer is counted, ≥ 0
    coefficient_of_performance   (n,)   –   heat moved for each joule of electricity, > 0
    standing                     (n,)   W   of electricity that the freezer takes in any case, ≥ 0

    Returns (n,) J.
    Raises ValueError for a value that is negative or not finite, or a coefficient that is not positive.
    Source: No source: definition of the coefficient of performance.
    """
    heat, time, standing = (
        _least(name, value, 0.0) for name, value in (("heat", heat), ("time", time), ("standing", standing))
    )
    coefficient = np.asarray(coefficient_of_performance, float)
    is_right = (coefficient > 0) & np.isfinite(coefficient)
    _require("coefficient_of_performance", coefficient, is_right, "positive and finite")
    return (heat / coefficient + standing * time)[()]


def energy_cost(energy, *, price):
    """What electricity costs.

    energy   float   J             ≥ 0
    price    int     minor units   a kilowatt-hour, whole

    Returns Fraction minor units, not rounded.
    Raises ValueError for an energy that is negative, or a price that is not whole.
    Source: No source: quantity × price.
    """
    hours = exact("energy", float(energy)) / exact("joules", JOULES_IN_KILOWATT_HOUR)
    return hours * whole("price", price, most=MOST_MINOR)


def _stage_heats(freezer, mass, initial, flesh):
    """J of the whole load above and below the mean freezing temperature, down to a core of −10 °C."""
    density = fish.flesh_density(initial, flesh=flesh)
    above, below = heat_before_and_after_freezing(
        initial=initial, core=MEASURED_CORE, air=freezer.air, flesh=flesh
    )
    return np.array([above, below]) * mass / density


def _stage_times(freezer, initial, heats):
    """Shares of Pham's time that cooling and freezing take."""
    mean = mean_freezing_temperature_pham(core=MEASURED_CORE, air=freezer.air)
    terms = heats / (np.array([(initial + mean) / 2, mean]) - freezer.air)
    return terms / terms.sum()


def _course(body: Body, freezer, flesh):
    """Shares of a stage's time that equal parts of its heat take, outermost first: they sum to 1.

    The front of Plank's in a body of that many dimensions: film, and the frozen shell that grows.
    """
    conductivity = float(fish.flesh_conductivity(MEASURED_CORE, flesh=flesh))
    biot = float(freezer.film * body.half / conductivity)
    counted = float(dimensions(body, biot=biot))
    taken = (np.arange(PARTS) + 0.5) / PARTS
    radius = (1 - taken) ** (1 / counted)
    bend = counted - 2
    shell = -np.log(radius) if abs(bend) < 1e-6 else (radius**-bend - 1) / bend
    times = 1 + biot * shell
    return times / times.sum()


def _tail(body, freezer, mass, flesh):
    """Cores °C from −10 down to the air, the time s that the fish takes to each, and the heat J of it."""
    above = np.geomspace(MEASURED_CORE - freezer.air, NEAREST_AIR, PARTS)
    core = np.maximum(freezer.air + above, fish.COLDEST)
    core[0] = MEASURED_CORE
    spent = tail_time(body=body, film=freezer.film, air=freezer.air, core=core, flesh=flesh)
    heat = mass * heat_removed(initial=MEASURED_CORE, final=core, flesh=flesh)
    return core, spent, heat


def _require_load(freezer, mass, margin):
    _require("mass", mass, (mass > 0) & np.isfinite(mass), "positive and finite")
    _require("freezer.extraction", freezer.extraction, freezer.extraction > 0, "positive")
    _least("margin", margin, 0.0)


def _least(name, value, low):
    value = np.asarray(value, float)
    _require(name, value, (value >= low) & np.isfinite(value), f"{low:g} or more, and finite")
    return value


def _require(name, values, is_right, what):
    if not np.all(is_right):
        values, is_right = np.broadcast_arrays(np.asarray(values, float), is_right)
        raise ValueError(f"{name} must be {what}, not {values[~is_right].flat[0]}")
