"""Where a grid of loads and start temperatures needs its nodes: nearer where the hold bends more.

Noons and nights bend it, elsewhere for each carton and each hour of leaving. The hold of each candidate tells
where, and by how much straight lines between the nodes overshoot. What else a phone needs is worked out of
the nodes alone, afterwards.
"""

import math
from dataclasses import replace
from itertools import product
from typing import NamedTuple

import numpy as np

from coop.engines.carton import capacity, room
from coop.engines.conduction_grid import FISH_CELL_MIN, FISH_CELLS_HALF
from coop.engines.departure import standard_normal_quantile
from coop.selectors.departure_judgement import planned_holds
from coop.selectors.departures import packing_of
from coop.selectors.engine_inputs import HOUR, carton_of
from coop.selectors.thermal_runs import DEVIATIONS, planned_runs

NEAR = 0.012
"""Of the hold: what straight lines may miss at nearly all candidates."""
NEARLY_ALL = 97
MOST_NODES = 120
SHORT = HOUR
"""A hold shorter than this is of no use on any road; it is told less closely."""
USUAL_START = -18.0
MORE = 1.1
MOST = 0.9
"""Beside candidates a little more may be overshot than at them; a hold stays one."""
ALLOWED = 0.008
"""Of the hold: what a bend between candidates may miss; reckoning.KEPT_HOLD takes off more than that."""
GRAMS = 1000
"""In a kilogram."""
LEAP = 0.0025
"""kg: candidates that are nearer stand on the two sides of a leap."""


class Nodes(NamedTuple):
    """Masses kg (m,) and start temperatures °C (t,) to work out; share by which to lower each hold (m, t)."""

    masses: tuple[float, ...]
    starts: tuple[float, ...]
    overshoot: np.ndarray


def nodes_among(pool, question, plan, design, *, masses, starts) -> Nodes:
    """Nodes among candidates that rise."""
    wanted = list(product(masses, starts))
    holds = list(pool.map(lambda one: looked_hold(question, plan, design, *one), wanted))
    table = np.array(holds).reshape(len(masses), len(starts))
    rows, columns = chosen(table, masses, starts)
    surface = (table, masses, starts, rows, columns)
    over = np.maximum(MORE * overshoot(*surface), bend(*surface) - ALLOWED)
    lowered_by = np.clip(over, 0.0, MOST)
    return Nodes(tuple(masses[row] for row in rows), tuple(starts[column] for column in columns), lowered_by)


def candidates(design, shares):
    """Masses kg at these shares of what fits, and the grams on both sides of where a run's cells change.

    There the hold leaps. A phone drops what is less than a gram, so it never reads within such a leap.
    """
    fits, height = capacity(carton_of(design)) * GRAMS, room(carton_of(design)).height
    changes = (2 * count * FISH_CELL_MIN / height for count in range(2, FISH_CELLS_HALF[-1] + 1))
    leaps = (fits * share for share in changes if shares[0] < share < shares[-1])
    sides = (side for leap in leaps for side in (math.ceil(leap) - 1, math.floor(leap) + 1))
    return tuple(grams / GRAMS for grams in sorted({*(math.floor(fits * share) for share in shares), *sides}))


def looked_hold(question, plan, design, mass_kg, start_temperature_c):
    """Cautious hold s, the one of the full computation, from no more walls than it is read between."""
    fish = replace(question, mass_kg=mass_kg, start_temperature_c=start_temperature_c)
    _, packed, _ = packing_of(fish, design, plan.slot.standard)
    confidence = plan.slot.standard.confidence
    _, cautious = planned_holds(planned_runs(packed, plan.outing, walls(confidence)).planned, confidence)
    return cautious


def walls(confidence):
    """The two DEVIATIONS between which a wall as poor as a confidence asks for lies."""
    poor = float(standard_normal_quantile(confidence))
    above = np.clip(np.searchsorted(DEVIATIONS, poor), 1, len(DEVIATIONS) - 1)
    return DEVIATIONS[above - 1 : above + 1]


def chosen(holds, masses, starts):
    """Rows and columns of a table of holds s between which straight lines tell the rest.

    The ends are among them, and the start temperature that people name most. Of the row and the column where
    most is missed, the one that mends more for each node it brings is taken.
    """
    usual = np.flatnonzero(np.asarray(starts) == USUAL_START).tolist()
    rows, columns = [0, len(masses) - 1], sorted({0, *usual, len(starts) - 1})
    while np.percentile(off := missed(holds, masses, starts, rows, columns), NEARLY_ALL) > NEAR:
        row, column = np.unravel_index(off.argmax(), holds.shape)
        tried = [(sorted({*rows, row}), columns), (rows, sorted({*columns, column}))]
        more = [
            (nodes, missed(holds, masses, starts, *one), one)
            for one in tried
            if len(rows) * len(columns) < (nodes := len(one[0]) * len(one[1])) <= MOST_NODES
        ]
        if not more:
            break
        before, count = (off**2).sum(), len(rows) * len(columns)
        *_, (rows, columns) = max(more, key=lambda one: (before - (one[1] ** 2).sum()) / (one[0] - count))
    return rows, columns


def missed(holds, masses, starts, rows, columns):
    """Share of each hold that is missed by straight lines between some rows and columns."""
    return np.abs(drawn(holds, masses, starts, rows, columns) - holds) / np.maximum(holds, SHORT)


def drawn(holds, masses, starts, rows, columns):
    """Holds s as straight lines between some rows and columns tell them."""
    masses, starts = np.asarray(masses), np.asarray(starts)
    along = [np.interp(starts, starts[columns], line) for line in holds[np.ix_(rows, columns)]]
    return np.array([np.interp(masses, masses[rows], line) for line in np.transpose(along)]).T


def overshoot(holds, masses, starts, rows, columns):
    """Share by which to lower each node, (rows, columns), so that no candidate beside it is overshot."""
    told = drawn(holds, masses, starts, rows, columns)
    over = np.maximum(1 - holds / np.maximum(told, 1.0), 0.0)
    return beside(rows, columns, lambda low, high, left, right: over[low : high + 1, left : right + 1].max())


def bend(holds, masses, starts, rows, columns):
    """The same for all that lies between candidates, where a hold bends at most once between two of them."""
    told = drawn(holds, masses, starts, rows, columns)
    down, along = bent(holds, told, masses), bent(holds.T, told.T, starts).T

    def worst(low, high, left, right):
        return max(down[low:high, left : right + 1].max(), along[low : high + 1, left:right].max())

    return beside(rows, columns, worst)


def beside(rows, columns, worst):
    """Of each node (rows, columns) the worst between the rows and the columns around it."""
    return np.array([[worst(*down, *along) for along in around(columns)] for down in around(rows)])


def around(nodes):
    """Of each node the one before and the one after it; an end has itself."""
    return list(zip([nodes[0], *nodes[:-1]], [*nodes[1:], nodes[-1]], strict=True))


def bent(holds, told, at):
    """Share by which told holds (n, k) may overshoot between neighbours at (n,) positions, (n - 1, k)."""
    lower, told = dip(holds, at), np.maximum(told, 1.0)
    reached, least = (np.minimum(table[1:], table[:-1]) for table in (holds / told, told))
    return np.where(lower > 0, 1 - reached + lower / least, 0.0)


def dip(holds, at):
    """How far s below the straight line between neighbours a hold may lie, (n - 1, k).

    Where it bends once between them it lies on or above the lines of both neighbouring pieces, drawn on: they
    meet at the lowest. A leap between two grams tells of no slope.
    """
    steps = np.diff(at)
    pieces = np.flatnonzero(steps > LEAP)
    slope = np.diff(holds, axis=0)[pieces] / steps[pieces, None]
    rise = np.maximum(np.diff(slope, axis=0), 0.0)
    before, after = rise[:-1], rise[1:]
    lowest = np.zeros((len(steps), holds.shape[1]))
    inner = pieces[1:-1]
    lowest[inner] = steps[inner, None] * before * after / np.maximum(before + after, 1e-9)
    return lowest
