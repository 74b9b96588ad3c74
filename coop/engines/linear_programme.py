"""A mixed-integer programme, put together row by row and column by column, and solved by HiGHS."""

import math
from typing import NamedTuple

import highspy
import numpy as np

SOLVED = highspy.HighsModelStatus.kOptimal
READ = (SOLVED, highspy.HighsModelStatus.kTimeLimit, highspy.HighsModelStatus.kSolutionLimit)
INTEGER, REAL = highspy.HighsVarType.kInteger, highspy.HighsVarType.kContinuous


OPTIONS = {"output_flag": False, "threads": 1, "random_seed": 0, "presolve_rule_off": 1 << 15}
"""One thread and a fixed seed, so that it answers alike each time. The rule left out is probing, which takes
longer on the choice among contents than all the rest."""
NOISE = 1e-11
"""Of the cost of a column: a reduced cost below it is the error of adding up, and counts as none."""


class Column(NamedTuple):
    """Cost of one unit, bounds, and the rows that it touches, each with its coefficient."""

    cost: float
    lower: float
    upper: float
    is_whole: bool
    entries: tuple[tuple[int, float], ...]


class Programme:
    """Rows of lower ≤ sum ≤ upper, and columns over them; least cost is wanted."""

    def __init__(self):
        self.rows, self.columns = [], []

    def row(self, lower, upper):
        """Adds a row; returns its number."""
        self.rows.append((lower, upper))
        return len(self.rows) - 1

    def column(self, cost, *entries, upper=math.inf, whole=False):
        """Adds a column from 0 on; returns its number."""
        merged = {}
        for row, value in entries:
            merged[row] = merged.get(row, 0.0) + float(value)
        self.columns.append(Column(float(cost), 0.0, float(upper), whole, tuple(merged.items())))
        return len(self.columns) - 1

    def copy(self):
        """The same again, to be added to."""
        other = Programme()
        other.rows, other.columns = [*self.rows], [*self.columns]
        return other


def solver(programme, *, whole, **options):
    """HiGHS with a programme in it, on one thread, so that it answers alike each time.

    programme   Programme   –
    whole       bool        –   whether whole columns must be whole
    options     –           –   of HiGHS, by name

    Returns highspy.Highs, not run yet.
    Raises KeyError for nothing; HiGHS says itself what it cannot take.
    Source: Huangfu & Hall 2018, Math. Program. Comput. 10:119 (from memory): HiGHS.
    """
    highs = highspy.Highs()
    for name, value in {**OPTIONS, **options}.items():
        highs.setOptionValue(name, value)
    columns, model = programme.columns, highspy.HighsLp()
    model.num_col_, model.num_row_ = len(columns), len(programme.rows)
    model.col_cost_ = np.array([column.cost for column in columns])
    model.col_lower_ = np.array([column.lower for column in columns])
    model.col_upper_ = np.array([column.upper for column in columns])
    model.row_lower_ = np.array([lower for lower, _ in programme.rows])
    model.row_upper_ = np.array([upper for _, upper in programme.rows])
    model.a_matrix_.format_ = highspy.MatrixFormat.kColwise
    model.a_matrix_.start_ = np.cumsum([0, *(len(column.entries) for column in columns)])
    model.a_matrix_.index_ = np.array([row for column in columns for row, _ in column.entries], np.int32)
    model.a_matrix_.value_ = np.array([value for column in columns for _, value in column.entries])
    if whole:
        model.integrality_ = [INTEGER if column.is_whole else REAL for column in columns]
    highs.passModel(model)
    return highs


def dual_bound(duals, *, matrix, cost, columns, rows):
    """What the cost of every solution certainly reaches, from any prices of the rows.

    duals     (r,)     cost   price of a unit of each row, any; on an open side it counts as 0
    matrix    (r, c)   –      rows over columns
    cost      (c,)     cost   of one unit of each column
    columns   (2, c)   –      lower and upper bounds; finite, or the rows repay the column
    rows      (2, r)   –      lower and upper sides

    Returns float; −inf where an unbounded column would earn.
    Raises ValueError for shapes that do not match.
    Source: Lagrangian duality; Neumaier & Shcherbina 2004, Math. Program. 99:283 (from memory): the bound is
        worked out from the prices, so it holds however inexactly they were found.
    """
    side = np.where(duals > 0, rows[0], rows[1])
    price = np.where(np.isfinite(side), duals, 0.0)
    reduced = cost - price @ matrix
    reduced[np.abs(reduced) < NOISE * (1.0 + np.abs(cost))] = 0.0
    bound = np.where(reduced > 0, columns[0], columns[1])
    earned = np.zeros(len(cost))
    np.multiply(reduced, bound, out=earned, where=reduced != 0)
    return float(price @ np.where(price == 0, 0.0, side) + earned.sum())
