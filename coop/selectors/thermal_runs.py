"""The conduction runs behind one departure: how long a carton holds, by wait, travel time and insulation."""

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from coop.engines import ambient, conduction
from coop.engines.ambient import Weather
from coop.engines.carton import Carton, Load
from coop.engines.conduction import Air, Follow, Wall
from coop.engines.conduction_grid import carton_grid
from coop.engines.departure import HoldTable
from coop.engines.fish import Flesh
from coop.engines.hold_table import Nodes, anchored, hold_table
from coop.selectors.engine_inputs import HOUR
from coop.selectors.thermal_runs_way import Way, stages_of

INTERVAL = 1800.0
READ_EVERY = 2
READING_STEP = READ_EVERY * INTERVAL
HORIZON = 96 * HOUR
"""Nobody sends a carton for longer; one that is handed over later counts as soft."""
AFTER_ARRIVAL = 40 * HOUR
"""A run goes on for a closed Sunday at the buyer's door."""
WAITS_AFTER = np.array([0.0, 3.0, 8.0, 16.0, 28.0]) * HOUR
WAITS_BEFORE = np.array([0.0, 4.0, 9.0, 16.0, 28.0]) * HOUR
"""Waits that are run; between them the hold is read by straight lines. A test holds the error."""
TRAVEL_SHARES = (0.05, 0.5, 0.97)
DEVIATIONS = np.array([-2.0, -0.5, 0.75, 1.75, 3.0])
FAR_TRAVEL = slice(1, 2)
FAR_DEVIATIONS = np.array([0.5, 2.5])
"""Other waits are run on the median trip in two walls, and stretched as the planned wait has to be."""
FINE_DEVIATIONS = np.linspace(-3.5, 4.0, 31)
FINE_TRAVEL = 9
SOFT_ENOUGH = 0.5
"""A run may end when half of the fish has softened; beyond it all counts as soft."""
WARMEST_SHARE = 0.05


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

    @cached_property
    def law(self):
        return conduction.thaw_law(flesh=self.flesh, stowage_density=self.carton.stowage_density)

    @cached_property
    def grid(self):
        return carton_grid(carton=self.carton, load=self.load)


@dataclass(frozen=True)
class Outing:
    """A closing and a planned departure, s since the weather's first midnight, and its travel-time nodes."""

    weather: Weather
    way: Way
    closing: float
    wait: float
    lead: float
    travel: np.ndarray


@dataclass(frozen=True)
class HoldRuns:
    """Hold as planned, by wait with the closing fixed, by wait with the departure fixed.

    And, as planned: the softened share (travel, deviation, reading) an hour apart, and until when s all was
    followed. Travel and deviation of the softened share are the outing's travel and DEVIATIONS.
    The tables by wait and by closing are None until somebody needs them.
    """

    planned: HoldTable
    by_wait: HoldTable | None
    by_closing: HoldTable | None
    softened: np.ndarray
    planned_end: float


def hold_tables(packed, outing):
    """HoldRuns of one carton on one outing."""
    runs, waits = planned_runs(packed, outing), waits_before(outing)
    closings = outing.closing + outing.wait - waits
    return replace(
        runs,
        by_wait=table_by_wait(runs, packed, outing),
        by_closing=far_table(runs, packed, outing, waits, closings),
    )


def planned_runs(packed, outing, deviations=None):
    """HoldRuns of the planned wait alone, in walls of these deviations; None are DEVIATIONS."""
    deviations = DEVIATIONS if deviations is None else deviations
    plan = np.array([outing.wait])
    run = follow(
        packed,
        outing,
        plan,
        np.array([outing.closing]),
        travel=outing.travel,
        deviations=deviations,
        stop_at=SOFT_ENOUGH,
        share=warmest_share(packed),
    )
    return HoldRuns(
        table_of(packed, run, fine_nodes(outing)),
        by_wait=None,
        by_closing=None,
        softened=run.curves.softened_share.reshape(len(outing.travel), len(deviations), -1),
        planned_end=float(run.ends.min()),
    )


def table_by_wait(runs, packed, outing):
    """HoldTable of longer waits than planned, with the closing fixed."""
    waits = waits_after(outing.wait)
    return far_table(runs, packed, outing, waits, np.full(len(waits), outing.closing))


def far_table(runs, packed, outing, waits, closings):
    """HoldTable of other waits than the planned one, put right by the runs of that."""
    run = follow(
        packed,
        outing,
        waits,
        closings,
        travel=outing.travel[FAR_TRAVEL],
        deviations=FAR_DEVIATIONS,
        stop_at=far_enough(packed),
        share=warmest_share(packed),
        read_every=2 * READ_EVERY,
    )
    table = table_of(packed, run, fine_nodes(outing))
    return anchored(table, planned=runs.planned, wait=outing.wait, followed=FAR_DEVIATIONS)


def fine_nodes(outing):
    return Nodes(None, np.linspace(outing.travel[0], outing.travel[-1], FINE_TRAVEL), FINE_DEVIATIONS)


def table_of(packed, run, fine):
    """HoldTable of some runs for the limit of a carton."""
    limit, level = limit_level(packed, run.curves)
    nodes = Nodes(run.waits, run.travel, run.deviations)
    return hold_table(
        runs=nodes,
        level=level.reshape(*map(len, nodes), -1),
        end=run.ends,
        limit=limit,
        reading_step=run.curves.time[1],
        fine=fine,
    )


def limit_level(packed, curves):
    """The limit, and what must not pass it, as positions in the thaw law: enthalpy rises as evenly as heat.

    More than a share has softened just when the temperature that this share exceeds is that of soft fish.
    """
    law = packed.law
    if packed.limit_kind == "softened_share":
        limit, reading = law.soft_above, curves.warmest
    else:
        limit, reading = packed.limit_value, limit_reading(curves, packed.limit_kind)
    position = np.arange(len(law.temperature), dtype=float)
    return tuple(np.interp(value, law.temperature, position) for value in (limit, reading))


def far_enough(packed):
    """Softened share beyond which a run teaches nothing about when a better wall passes the limit."""
    return min(3 * packed.limit_value, SOFT_ENOUGH) if packed.limit_kind == "softened_share" else SOFT_ENOUGH


def waits_after(planned):
    """Waits s to run with the closing fixed: shorter ones too where the carton is closed long before."""
    shorter = [share * planned for share in (0.0, 0.5) if planned > 2 * HOUR]
    return np.unique(np.concatenate([shorter, planned + WAITS_AFTER]))


def waits_before(outing):
    """Waits s to run with the departure fixed, the planned one among them."""
    return np.unique(np.concatenate([[outing.wait], outing.lead + WAITS_BEFORE]))


@dataclass(frozen=True)
class Followed:
    """Runs by wait, travel time and deviation, in that order in `curves`; `ends` s (wait, travel)."""

    waits: np.ndarray
    travel: np.ndarray
    deviations: np.ndarray
    ends: np.ndarray
    curves: conduction.Curves
    exposure: ambient.Exposure


def follow(
    packed,
    outing,
    waits,
    closings,
    *,
    travel,
    deviations,
    stop_at,
    share=WARMEST_SHARE,
    read_every=READ_EVERY,
):
    """Warms the carton on its way for every wait, every travel time and every deviation of its insulation."""
    each_wait, each_closing = np.repeat(waits, len(travel)), np.repeat(closings, len(travel))
    travels = np.tile(travel, len(waits))
    needed = np.minimum(each_wait + travels + AFTER_ARRIVAL, HORIZON)
    intervals = np.ceil(needed / INTERVAL).astype(int)
    intervals += -intervals % read_every
    exposure = ambient.exposure(
        weather=outing.weather,
        stages=stages_of(outing.way, each_wait, travels),
        closing=each_closing,
        interval=INTERVAL,
        count=int(intervals.max()),
        offset=outing.way.offset,
    )
    pace = {"stop_at": stop_at, "read_every": read_every, "share": share}
    curves = warmed(packed, exposure, intervals, deviations, **pace)
    ends = (intervals * INTERVAL).reshape(len(waits), len(travel))
    return Followed(np.asarray(waits, float), travel, deviations, ends, curves, exposure)


def limit_reading(curves, kind):
    return {
        "softened_share": curves.softened_share,
        "core_c": curves.core,
        "mean_c": curves.mean,
        "warmest_c": curves.warmest,
    }[kind]


def limit_holds(curves, kind, value):
    return conduction.hold(time=curves.time, reading=limit_reading(curves, kind), limit=value)


def warmed(packed, exposure, intervals, deviations, *, stop_at, read_every, share=WARMEST_SHARE, threads=1):
    """conduction.warming for every weather with every deviation of the insulation."""
    carton = packed.carton
    weathers = len(exposure.air)
    conductivity = carton.insulation_conductivity * np.exp(packed.sigma * np.asarray(deviations))
    which = np.repeat(np.arange(weathers), len(deviations))
    return conduction.warming(
        grid=packed.grid,
        law=packed.law,
        wall=Wall(
            carton.insulation_density * carton.insulation_specific_heat,
            carton.board_thickness / carton.board_conductivity,
            carton.board_thickness,
        ),
        start=packed.law.position(packed.start_temperature, flesh=packed.flesh),
        # Shavings come from beside the freezer: they are as warm as the air when the carton is closed.
        insulation_start=exposure.air[which, 0],
        insulation_conductivity=np.tile(conductivity, weathers),
        air=Air(exposure.outside, exposure.film, INTERVAL, which),
        follow=Follow(np.asarray(intervals)[which], read_every, stop_at=stop_at, warmest_share=share),
        threads=threads,
    )


def warmest_share(packed):
    """Share of the fish that is read as the warmest: what the limit lets soften, else a twentieth."""
    return packed.limit_value if packed.limit_kind == "softened_share" else WARMEST_SHARE
