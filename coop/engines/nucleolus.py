"""The nucleolus: the split whose most discontented coalition is as content as it can be, then the next, …

A sequence of linear programmes. Each makes the smallest saving of all coalitions that are still open as great
as it can be. Coalitions are settled only where a positive dual proves that every best split leaves them just
that saving. To be tight in one solution proves nothing: the common mistake (Guajardo & Jörnsten 2015).
"""

import numpy as np
from scipy.linalg import null_space

from coop.engines.coalitions import ROUND_OFF, checked_costs, membership, players_of
from coop.engines.core import MOST_TESTED, widest_slack

POSITIVE = 1e-7
"""A dual above it is not 0: it is a ratio of determinants of at most 13 rows of 0 and 1, so above 1e-5."""
IN_SPAN = 1e-9
"""Length below which a coalition that is projected off the settled ones is settled itself."""


def nucleolus(costs):
    """The nucleolus of a cost game.

    costs   (2ⁿ,)   minor units   of all coalitions, in the order of their masks; n up to 12

    Returns (n,) minor units; they sum to the bill, nobody pays more than alone, and they lie in the core
        unless it is empty. If alone all pay less in sum than the bill, somebody must pay more than alone:
        then it is the prenucleolus, without that limit. A share below 0 is paid out.
    Raises ValueError for a table that is none, or more players.
    Source: Schmeidler 1969, The nucleolus of a characteristic function game, SIAM J. Appl. Math. 17:1163;
        Maschler, Peleg & Shapley 1979, Math. Oper. Res. 4:303; Guajardo & Jörnsten 2015, EJOR 241:931.
    """
    costs = checked_costs(costs, most=MOST_TESTED)
    players = players_of(costs)
    members = membership(players).astype(float)
    alone = costs[2 ** np.arange(players)]
    shares = alone + (costs[-1] - alone.sum()) / players
    is_limited = costs[-1] <= alone.sum() + ROUND_OFF * np.abs(costs).max()
    settled = [(members[-1], costs[-1], None)]
    for stage in range(players):
        moves = null_space(np.array([row for row, _, _ in settled]))
        if not moves.size:
            break
        shares, found = _settle(members, costs, shares=shares, moves=moves, is_limited=is_limited)
        settled += [(row, cost, stage if is_open else None) for row, cost, is_open in found]
    return _solved(settled, players)


def _settle(members, costs, *, shares, moves, is_limited):
    """The best split of one stage, and the rows that it settles: (members, cost, whether at its saving)."""
    along = members @ moves
    slack = costs - members @ shares
    is_open = np.abs(along).max(axis=1) > IN_SPAN
    own = np.flatnonzero(is_open & (members.sum(axis=1) == 1)) if is_limited else np.empty(0, int)
    rows = np.flatnonzero(is_open)
    widest = widest_slack(
        along[rows], slack=slack[rows], fixed_rows=along[own], fixed_slack=np.maximum(slack[own], 0.0)
    )
    found = [(members[i], costs[i], True) for i in rows[widest.duals > POSITIVE]]
    found += [(members[i], costs[i], False) for i in own[widest.fixed_duals > POSITIVE]]
    return shares + moves @ widest.point, found


def _solved(settled, players):
    """Shares and the saving of each stage from all settled rows at once: free of the solver's tolerance."""
    stages = sorted({stage for _, _, stage in settled if stage is not None})
    system = np.zeros((len(settled), players + len(stages)))
    for line, (row, _, stage) in zip(system, settled, strict=True):
        line[:players] = row
        if stage is not None:
            line[players + stages.index(stage)] = 1.0
    right = np.array([cost for _, cost, _ in settled])
    return np.linalg.lstsq(system, right, rcond=None)[0][:players]
