"""Who would rather leave: a split is stable, in the core, if no coalition pays more than by itself."""

from typing import NamedTuple

import numpy as np
from scipy.optimize import linprog

from coop.engines.coalitions import (
    ROUND_OFF,
    checked_amounts,
    checked_costs,
    coalition_sums,
    membership,
    players_of,
)
from coop.engines.lognormal import require

MOST_TESTED = 12
"""Players up to which every coalition is a row of a linear programme."""
TIGHTEST = 1e-10
"""Tolerances of the solver, the smallest that HiGHS takes; costs are scaled to 1 before."""


class Objection(NamedTuple):
    """The coalition (bit mask) that gains most by leaving, its gain, and each player's gain by going alone.

    All in minor units; coalition and gain are 0 if nobody gains. A player's own gain below 0 is what staying
    saves.
    """

    coalition: int
    gain: float
    gain_alone: np.ndarray

    @property
    def better_off_alone(self):
        """(n,) bool: who pays more than alone."""
        return self.gain_alone > 0


class LeastCore(NamedTuple):
    """The most that some coalition must overpay at least, minor units, and shares (n,) that reach it."""

    epsilon: float
    shares: np.ndarray


class Widest(NamedTuple):
    """The greatest least slack, a point (d,) that reaches it, and the duals of the two kinds of rows."""

    slack: float
    point: np.ndarray
    duals: np.ndarray
    fixed_duals: np.ndarray


def objection(costs, shares):
    """Whether some would rather leave, who, and what they gain.

    costs    (2ⁿ,)   minor units   of all coalitions, in the order of their masks; n up to 20
    shares   (n,)    minor units   that sum to the cost of everybody, the bill

    Returns Objection. Of coalitions that gain alike the one with fewest members, then with the lowest mask.
    Raises ValueError for a table that is none, or shares that are not as many or do not sum to the bill.
    Source: Gillies 1959, Solutions to general non-zero-sum games, Contributions to the Theory of Games IV:47.
    """
    costs = checked_costs(costs)
    shares = checked_amounts("shares", shares)
    if shares.size != players_of(costs):
        raise ValueError(f"shares must be of {players_of(costs)} players, not of {shares.size}")
    small = ROUND_OFF * max(np.abs(costs).max(), np.abs(shares).max())
    require("shares", shares.sum(), abs(shares.sum() - costs[-1]) <= small, f"summing to {costs[-1]}")
    gains = coalition_sums(shares) - costs
    gains[np.abs(gains) <= small] = 0.0
    alone = gains[2 ** np.arange(shares.size)]
    most = gains[1:].max()
    if most <= 0:
        return Objection(0, 0.0, alone)
    alike = np.flatnonzero(gains >= most - small)
    coalition = alike[np.argmin(np.bitwise_count(alike))]
    return Objection(int(coalition), float(gains[coalition]), alone)


def least_core(costs):
    """The shares that make the coalition with the greatest reason to leave as content as it can be.

    costs   (2ⁿ,)   minor units   of all coalitions, in the order of their masks; n up to 12

    Returns LeastCore. Above 0, epsilon is what at least one coalition overpays whatever the split: none is
        stable. Below 0, it is what every coalition saves at least. For one player it is 0.
    Raises ValueError for a table that is none, or more players.
    Source: Maschler, Peleg & Shapley 1979, Geometric properties of the kernel, nucleolus, and related
        solution concepts, Math. Oper. Res. 4:303.
    """
    costs = checked_costs(costs, most=MOST_TESTED)
    players = players_of(costs)
    start = np.full(players, costs[-1] / players)
    if players == 1:
        return LeastCore(0.0, start)
    members = membership(players)[1:-1].astype(float)
    moves = sum_free_moves(players)
    widest = widest_slack(members @ moves, slack=costs[1:-1] - members @ start)
    return LeastCore(-widest.slack, start + moves @ widest.point)


def core_is_empty(costs):
    """Whether no split is stable.

    costs   (2ⁿ,)   minor units   of all coalitions, in the order of their masks; n up to 12

    Returns bool.
    Raises ValueError as least_core.
    Source: Bondareva 1963 and Shapley 1967, as the sign of the least core's epsilon (from memory).
    """
    return bool(least_core(costs).epsilon > ROUND_OFF * np.abs(costs).max())


def sum_free_moves(players):
    """Directions in which shares can move while their sum stays.

    players   int   –   n, ≥ 1

    Returns (n, n − 1) –, each column giving 1 to a player and taking it from the last.
    Raises ValueError for no players.
    Source: No source: definition.
    """
    return np.vstack([np.eye(players - 1), -np.ones(players - 1)])


def widest_slack(rows, *, slack, fixed_rows=None, fixed_slack=None):
    """The move that makes the smallest slack as great as it can be, by linear programming.

    rows          (m, d)   –     what a move takes off each slack
    slack         (m,)     any   before the move
    fixed_rows    (k, d)   –     likewise, of slacks that only must not fall below 0; or None
    fixed_slack   (k,)     any   of those, ≥ 0; or None

    Returns Widest; duals ≥ 0, those of rows sum to 1, and where one is positive every best move meets it.
    Raises ValueError if no move is best: the smallest slack can grow without end, or a fixed one is negative.
    Source: No source: definition; solved by HiGHS (Huangfu & Hall 2018, Math. Prog. Comp. 10:119).
    """
    count, moves = rows.shape
    fixed = (np.empty((0, moves)), np.empty(0)) if fixed_rows is None else (fixed_rows, fixed_slack)
    scale = max(np.abs(slack).max(), np.abs(fixed[1]).max(initial=0.0)) or 1.0
    found = linprog(
        np.append(np.zeros(moves), -1.0),
        A_ub=np.vstack([np.c_[rows, np.ones(count)], np.c_[fixed[0], np.zeros(len(fixed[1]))]]),
        b_ub=np.concatenate([slack, fixed[1]]) / scale,
        bounds=(None, None),
        method="highs-ds",
        options={"primal_feasibility_tolerance": TIGHTEST, "dual_feasibility_tolerance": TIGHTEST},
    )
    if not found.success:
        raise ValueError(f"slack must be bounded by rows: {found.message}")
    duals = -found.ineqlin.marginals
    return Widest(-found.fun * scale, found.x[:-1] * scale, duals[:count], duals[count:])
