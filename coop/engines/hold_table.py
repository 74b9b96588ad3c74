"""Hold at closely spaced journeys and walls, from a few runs of the conduction engine."""

from typing import NamedTuple

import numpy as np

from coop.engines.departure import HoldTable


class Nodes(NamedTuple):
    """Waits (w,) s, travel times (r,) s and deviations (k,) of ln conductivity in sigmas, each rising."""

    wait: np.ndarray
    travel: np.ndarray
    deviation: np.ndarray


NEVER = 1e12
"""Level beyond the end of a run: what was not followed does not count as held."""


def hold_table(*, runs, level, end, limit, reading_step, fine):
    """HoldTable at finer nodes of travel time and conductivity than were run.

    runs           Nodes          s, –   of the runs
    level          (w, r, k, m)   –      rises as the fish warms, nearly straight in ln conductivity: its
                                         enthalpy; NaN where a run ended early: it is drawn straight on
    end            (w, r)         s      until when each run was followed
    limit          float          –      level that must not be passed
    reading_step   float          s      between readings
    fine           Nodes          s, –   of the table; the waits are those of the runs

    Returns HoldTable. The level is interpolated before its crossing is sought: nights and noons bend the hold
    itself from one wall to the next, the level hardly.
    Raises ValueError for a reading step that is not positive.
    Source: No source: linear interpolation.
    """
    if not reading_step > 0:
        raise ValueError(f"reading_step must be positive, not {reading_step}")
    time = np.arange(level.shape[-1]) * reading_step
    known = np.where(time <= np.asarray(end)[:, :, None, None] + 1e-6, _drawn_on(level), NEVER)
    closer = _between(
        _between(known, runs.travel, fine.travel, 1, open_ended=False), runs.deviation, fine.deviation, 2
    )
    return HoldTable(runs.wait, fine.travel, fine.deviation, _first_passed(closer, limit, time))


def anchored(table, *, planned, wait, followed):
    """A HoldTable from few runs, put right by one from more of them that holds for one of its waits.

    table      HoldTable   s   rows by wait, one of them for the wait below
    planned    HoldTable   s   one row, same travel and deviation nodes
    wait       float       s   that both have in common
    followed   (k,)        –   deviations of the runs behind the table, rising

    Returns HoldTable: each row is stretched as the common row has to be to meet the planned one. Beyond the
        walls that were run, a wait shortens the planned hold as it does in the nearest of them.
    Raises ValueError where the table has no row for the wait, or the nodes differ.
    Source: No source: what few runs miss is much the same for one wait as for another.
    """
    row = np.flatnonzero(np.isclose(table.wait, wait))
    if not row.size:
        raise ValueError(f"wait must be one of {table.wait}, not {wait}")
    if not (
        np.array_equal(table.travel, planned.travel) and np.array_equal(table.deviation, planned.deviation)
    ):
        raise ValueError("planned must have the travel and deviation nodes of the table")
    nearest = np.abs(table.deviation[:, None] - np.clip(table.deviation, followed[0], followed[-1])).argmin(0)
    near = table.hold[:, :, nearest]
    hold = planned.hold[0] * near / np.maximum(near[row[0]], 1.0)
    # Walls that outlast the planned run: longer waits were followed for longer.
    outlasts = planned.hold[0] >= planned.hold[0][:, :1]
    hold = np.where(outlasts, np.maximum(hold, table.hold), hold)
    # A poorer wall never holds longer, whatever the stretching did.
    return table._replace(hold=np.minimum.accumulate(hold, axis=2))


def _drawn_on(level):
    """Level with the ends that a run left out drawn on with the slope of its last two readings."""
    level = np.array(level, float)
    count = np.maximum((~np.isnan(level)).sum(axis=-1), 1)
    last = np.take_along_axis(level, (count - 1)[..., None], axis=-1)
    before = np.take_along_axis(level, np.maximum(count - 2, 0)[..., None], axis=-1)
    beyond = np.maximum(np.arange(level.shape[-1]) - (count - 1)[..., None], 0)
    return np.where(np.isnan(level), last + beyond * (last - before), level)


def _between(values, nodes, wanted, axis, *, open_ended=True):
    """Values at wanted positions between nodes along an axis, straight on beyond the ends or held there."""
    if len(nodes) == 1:
        return np.repeat(values, len(wanted), axis=axis)
    low = np.clip(np.searchsorted(nodes, wanted, side="right") - 1, 0, len(nodes) - 2)
    weight = (wanted - nodes[low]) / (nodes[low + 1] - nodes[low])
    weight = weight if open_ended else np.clip(weight, 0.0, 1.0)
    shape = [-1 if a == axis else 1 for a in range(values.ndim)]
    below, above = np.take(values, low, axis=axis), np.take(values, low + 1, axis=axis)
    return below + weight.reshape(shape) * (above - below)


def _first_passed(level, limit, time):
    """Time s at which a level first passes a limit; the last instant where it never does."""
    passed = level > limit
    passed[..., -1] = True
    after = passed.argmax(axis=-1)
    before = np.maximum(after - 1, 0)
    low = np.take_along_axis(level, before[..., None], axis=-1)[..., 0]
    high = np.take_along_axis(level, after[..., None], axis=-1)[..., 0]
    part = np.clip((limit - low) / np.maximum(high - low, 1e-12), 0.0, 1.0)
    part = np.where(high > limit, part, 1.0)
    return np.where(after == 0, 0.0, time[before] + part * (time[after] - time[before]))
