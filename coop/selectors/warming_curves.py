"""Curves of one carton as people read them: against limits, with day and night behind."""

from dataclasses import dataclass

import numpy as np

from coop.engines import ambient, sun
from coop.engines.conduction import Curves
from coop.selectors.engine_inputs import HOUR
from coop.selectors.thermal_runs import INTERVAL, limit_holds

SOFT_ENOUGH = 0.95
LIMITS = (
    ("core_c", -18.0),
    ("core_c", -15.0),
    ("core_c", -12.0),
    ("core_c", -9.0),
    ("core_c", -5.0),
    ("mean_c", -9.0),
    ("mean_c", -5.0),
    ("warmest_c", -9.0),
    ("warmest_c", -5.0),
    ("softened_share", 0.05),
)
"""Limits that buyers set: Codex −18 °C in the middle, −9 °C for whole fish for canning, and warmer ones."""


@dataclass(frozen=True)
class LimitHold:
    """How long one limit is kept, h: best estimate and cautious value; None where the run never passes it."""

    kind: str
    value: float
    best_h: float | None
    cautious_h: float | None
    is_chosen: bool


@dataclass(frozen=True)
class WarmingCurves:
    """What happens in the carton, half hour by half hour, and around it on a trip of median length."""

    hours: np.ndarray
    best: Curves
    cautious: Curves
    air: np.ndarray
    outside: np.ndarray
    nights: tuple[tuple[float, float], ...]
    limits: tuple[LimitHold, ...]


def limits_of(best, cautious, chosen):
    """Hold for each limit that buyers set, the chosen one first."""
    wanted = [chosen, *(limit for limit in LIMITS if limit != chosen)]
    return tuple(
        LimitHold(
            kind, value, _hours(best, kind, value), _hours(cautious, kind, value), (kind, value) == chosen
        )
        for kind, value in wanted
    )


def _hours(curves, kind, value):
    alone = Curves(curves.time, *(values[None] for values in curves[1:]))
    hold = limit_holds(alone, kind, value)[0]
    return None if np.isinf(hold) else float(hold / HOUR)


def one_of(curves, row):
    return Curves(curves.time, *(values[row] for values in curves[1:]))


def nights_of(weather, closing, length):
    """Spans h since closing in which the sun is down at the first place."""
    since = np.arange(0.0, length + 1, INTERVAL / 2)
    instant = closing + since
    day = np.minimum(instant // ambient.DAY, weather.maximum.shape[1] - 1).astype(int)
    height = sun.sun_height(
        day_of_year=weather.day_of_year[day],
        clock=instant % ambient.DAY,
        zone_offset=weather.zone_offset,
        latitude=weather.latitude[0],
        longitude=weather.longitude[0],
    )
    dark = np.concatenate([[False], height <= 0, [False]])
    turns = np.flatnonzero(dark[1:] != dark[:-1])
    edges = np.minimum(turns, len(since) - 1)
    return tuple(
        (float(since[a] / HOUR), float(since[b] / HOUR)) for a, b in zip(edges[::2], edges[1::2], strict=True)
    )
