"""The conduction runs behind one departure: how long a carton holds, by wait, travel time and insulation."""

from dataclasses import dataclass

import numpy as np

from coop.engines import ambient, conduction
from coop.engines.ambient import Carries, Stages, Weather
from coop.engines.carton import Carton, Load
from coop.engines.conduction import Air, Follow, Wall
from coop.engines.conduction_grid import carton_grid
from coop.engines.departure import HoldTable
from coop.engines.fish import Flesh
from coop.selectors.engine_inputs import HOUR

INTERVAL = 1800.0
HORIZON = 96 * HOUR
"""Nobody sends a carton for longer; one that is handed over later counts as soft."""
AFTER_ARRIVAL = 40 * HOUR
"""A run goes on for a closed Sunday at the buyer's door."""
WAITS_AFTER = np.array([0.0, 4.0, 10.0, 20.0, 36.0]) * HOUR
WAITS_BEFORE = np.array([0.0, 5.0, 11.0, 20.0, 32.0]) * HOUR
"""Nodes between which the hold is read by straight lines; a test holds the error against closer nodes."""
TRAVEL_SHARES = (0.05, 0.5, 0.97)
DEVIATIONS = np.array([-1.5, 0.75, 3.0])
FAR_TRAVEL = slice(1, 3)
FAR_DEVIATIONS = np.array([0.5, 2.5])
"""Other waits than the planned one decide only the last safe hours: slow trips, poor walls matter there."""
SOFT_ENOUGH = 0.5
"""A run may end when half of the fish has softened; beyond it all counts as soft."""
FOR_EVER = 1e9


@dataclass(frozen=True)
class Way:
    """Stages from taxi park to the buyer's freezer; `lengths` s of those between departure and arrival."""

    start_place: np.ndarray
    end_place: np.ndarray
    carries: np.ndarray
    lengths: np.ndarray
    last_stretch: float
    offset: float

    @property
    def mean_travel(self):
        return self.lengths.sum() + self.last_stretch


@dataclass(frozen=True)
class Packed:
    """A carton as it is closed, and the limit that its fish must meet."""

    carton: Carton
    load: Load
    flesh: Flesh
    start_temperature: float
    sigma: float
    limit_kind: str
    limit_value: float


@dataclass(frozen=True)
class Outing:
    """A closing and a planned departure, s since the weather's first midnight, and its travel-time nodes."""

    weather: Weather
    way: Way
    closing: float
    wait: float
    lead: float
    travel: np.ndarray


def hold_tables(packed, outing, *, threads=1):
    """Hold as planned, by wait with closing fixed, by wait with departure fixed, and the softened share.

    Returns three HoldTables and an array (travel, deviation, reading) of shares an hour apart, as planned.
    """
    plan = [outing.wait], [outing.closing]
    planned = follow(packed, outing, *plan, threads=threads, stop_at=SOFT_ENOUGH)
    far = {
        "travel": outing.travel[FAR_TRAVEL],
        "deviations": FAR_DEVIATIONS,
        "threads": threads,
        "stop_at": stop_share(packed),
    }
    after, before = waits_after(outing.wait), outing.lead + WAITS_BEFORE
    later = follow(packed, outing, after, np.full(len(after), outing.closing), **far)
    sooner = follow(packed, outing, before, outing.closing + outing.wait - before, **far)
    return (
        HoldTable(np.array(plan[0]), outing.travel, DEVIATIONS, planned.hold),
        HoldTable(after, far["travel"], FAR_DEVIATIONS, later.hold),
        HoldTable(before, far["travel"], FAR_DEVIATIONS, sooner.hold),
        planned.curves.softened_share.reshape(len(outing.travel), len(DEVIATIONS), -1),
    )


def waits_after(planned):
    """Waits s to compute with the closing fixed: shorter ones too where the carton is closed long before."""
    shorter = [share * planned for share in (0.0, 0.5) if planned > 2 * HOUR]
    return np.unique(np.concatenate([shorter, planned + WAITS_AFTER]))


def stop_share(packed):
    """Softened share at which nothing more can be learnt about the limit."""
    return packed.limit_value if packed.limit_kind == "softened_share" else SOFT_ENOUGH


@dataclass(frozen=True)
class Followed:
    """Runs by wait, travel time and deviation; `curves` has them in that order, flat."""

    hold: np.ndarray
    curves: conduction.Curves
    exposure: ambient.Exposure


def follow(
    packed,
    outing,
    waits,
    closings,
    *,
    stop_at,
    deviations=DEVIATIONS,
    travel=None,
    read_every=2,
    brief=True,
    threads=1,
):
    """Warms the carton on its way for every wait, every travel time and every deviation of its insulation."""
    travel = outing.travel if travel is None else travel
    waits, closings = np.repeat(waits, len(travel)), np.repeat(closings, len(travel))
    travels = np.tile(travel, len(waits) // len(travel))
    needed = np.minimum(waits + travels + AFTER_ARRIVAL, HORIZON)
    intervals = np.ceil(needed / INTERVAL).astype(int)
    intervals += -intervals % read_every
    exposure = ambient.exposure(
        weather=outing.weather,
        stages=stages_of(outing.way, waits, travels),
        closing=closings,
        interval=INTERVAL,
        count=int(intervals.max()),
        offset=outing.way.offset,
    )
    options = {"threads": threads, "stop_at": stop_at, "read_every": read_every}
    options["brief"] = brief and packed.limit_kind != "warmest_c"
    curves = warmed(packed, exposure, intervals, deviations, **options)
    holds = limit_holds(curves, packed.limit_kind, packed.limit_value)
    ends = np.repeat(intervals * INTERVAL, len(deviations))
    # A limit that was not passed before the run ended is known to hold until then, and no longer.
    holds = np.minimum(holds, ends).reshape(-1, len(travel), len(deviations))
    return Followed(holds, curves, exposure)


def limit_holds(curves, kind, value):
    reading = {
        "softened_share": curves.softened_share,
        "core_c": curves.core,
        "mean_c": curves.mean,
        "warmest_c": curves.warmest,
    }[kind]
    return conduction.hold(time=curves.time, reading=reading, limit=value)


def warmed(packed, exposure, intervals, deviations, *, threads, stop_at, read_every, brief):
    """conduction.warming for every weather with every deviation of the insulation."""
    carton = packed.carton
    law = conduction.thaw_law(flesh=packed.flesh, stowage_density=carton.stowage_density)
    weathers = len(exposure.air)
    conductivity = carton.insulation_conductivity * np.exp(packed.sigma * np.asarray(deviations))
    which = np.repeat(np.arange(weathers), len(deviations))
    return conduction.warming(
        grid=carton_grid(carton=carton, load=packed.load),
        law=law,
        wall=Wall(
            carton.insulation_density * carton.insulation_specific_heat,
            carton.board_thickness / carton.board_conductivity,
            carton.board_thickness,
        ),
        start=law.position(packed.start_temperature, flesh=packed.flesh),
        # Shavings come from beside the freezer: they are as warm as the air when the carton is closed.
        insulation_start=exposure.air[which, 0],
        insulation_conductivity=np.tile(conductivity, weathers),
        air=Air(exposure.outside, exposure.film, INTERVAL, which),
        follow=Follow(np.asarray(intervals)[which], read_every, stop_at=stop_at, brief=brief),
        threads=threads,
    )


def stages_of(way, waits, travels):
    """Stages of each journey: the wait, the legs and stops stretched to its travel time, the buyer's door."""
    stretch = np.asarray(travels) / way.mean_travel
    ends = np.asarray(waits)[:, None] + np.cumsum(way.lengths) * stretch[:, None]
    return Stages(
        ends=np.column_stack([waits, ends, np.full(len(ends), FOR_EVER)]),
        start_place=way.start_place,
        end_place=way.end_place,
        carries=way.carries,
    )


def way_of(legs, *, rides, waits, waits_at_buyer, last_stretch, offset):
    """The stages of a route: legs of (start place number, end place number, mean s, mean stop s)."""
    # A carton on a roof stands in the sun while the vehicle stops; inside, stopping changes nothing.
    stops = Carries.SUN if rides == Carries.ROOF else rides
    start, end, carries, lengths = [legs[0][0]], [legs[0][0]], [waits], []
    for leg_start, leg_end, mean, stop in legs:
        start += [leg_start, leg_end]
        end += [leg_end, leg_end]
        carries += [rides, stops]
        lengths += [mean, stop]
    last = legs[-1][1]
    return Way(
        start_place=np.array([*start, last]),
        end_place=np.array([*end, last]),
        carries=np.array([*carries, waits_at_buyer]),
        lengths=np.array(lengths, float),
        last_stretch=last_stretch,
        offset=offset,
    )
