"""Shapley's value: what each adds to the cost, averaged over all orders in which the players could join."""

from typing import NamedTuple

import numpy as np
from scipy.special import comb

from coop.engines.coalitions import checked_costs, players_of
from coop.engines.lognormal import require

MOST_SAMPLED = 1000
MOST_DRAWN = 10**7
"""Orders × players that are drawn at most: what they add is kept until the end."""
AT_ONCE = 2**20
"""Places in orders whose coalitions are priced at once."""


class Sampled(NamedTuple):
    """Estimated shares (n,) in minor units, which sum to the bill, and the standard error of each."""

    shares: np.ndarray
    standard_error: np.ndarray


def shapley(costs):
    """Shapley's value, exactly.

    costs   (2ⁿ,)   minor units   of all coalitions, in the order of their masks; n up to 20

    Returns (n,) minor units; they sum to the cost of everybody.
    Raises ValueError for a table of another length, a cost that is not finite, or nobody who costs something.
    Source: Shapley 1953, A value for n-person games, Contributions to the Theory of Games II:307.
    """
    costs = checked_costs(costs)
    players = players_of(costs)
    weights = _weights(players)
    shares = np.empty(players)
    for player in range(players):
        # Halves without and with the player lie side by side in blocks of 2^player: no index, no copy.
        block = costs.reshape(-1, 2, 2**player)
        shares[player] = np.vdot(block[:, 1] - block[:, 0], weights.reshape(-1, 2**player))
    return shares


def shapley_sampled(cost, *, players, orders, seed):
    """Shapley's value from some orders drawn at random, for more players than can be reckoned exactly.

    cost      function   –   of coalitions (m, players) bool, who is in, to what they cost (m,) minor units
    players   int        –   1 to 1000
    orders    int        –   how many are drawn, ≥ 2
    seed      int        –   of the draws: the same seed, the same answer

    Returns Sampled; the standard error falls with the root of the orders.
    Raises ValueError for a count that is out of range, or costs that are not finite or not as many.
    Source: Castro, Gómez & Tejada 2009, Polynomial calculation of the Shapley value based on sampling,
        Comput. Oper. Res. 36:1726.
    """
    _require_count("players", players, least=1, most=MOST_SAMPLED)
    _require_count("orders", orders, least=2, most=MOST_DRAWN // players)
    rng = np.random.default_rng(seed)
    batch = max(1, AT_ONCE // players**2)
    added = np.concatenate(
        [
            _added(cost, rng.permuted(np.tile(np.arange(players), (count, 1)), axis=1))
            for count in _batches(orders, batch)
        ]
    )
    return Sampled(added.mean(axis=0), added.std(axis=0, ddof=1) / np.sqrt(orders))


def _weights(players):
    """Share of all orders in which just a certain coalition, of the others, has come before a player."""
    sizes = np.arange(players)
    return (1 / (players * comb(players - 1, sizes)))[np.bitwise_count(np.arange(2 ** (players - 1)))]


def _added(cost, orders):
    """What each player adds to the cost in each order (m, n): every row sums to the cost of everybody."""
    count, players = orders.shape
    place = np.argsort(orders, axis=1)
    joined = place[:, None, :] <= np.arange(players)[:, None]
    costs = np.asarray(cost(joined.reshape(-1, players)), float)
    if costs.shape != (count * players,):
        raise ValueError(f"cost must give {count * players} costs, not shape {costs.shape}")
    require("cost", costs, np.isfinite(costs), "finite")
    steps = np.diff(costs.reshape(count, players), axis=1, prepend=0.0)
    return np.take_along_axis(steps, place, axis=1)


def _batches(total, size):
    return [min(size, total - start) for start in range(0, total, size)]


def _require_count(name, count, *, least, most):
    if isinstance(count, bool) or not isinstance(count, (int, np.integer)) or not least <= count <= most:
        raise ValueError(f"{name} must be whole and {least} to {most}, not {count!r}")
