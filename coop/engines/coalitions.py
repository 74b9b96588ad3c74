"""Coalitions of players who could travel together: each is a bit mask, player i being bit i.

A table of costs holds one cost for each of the 2ⁿ coalitions, in the order of their masks: first that of
nobody, which is 0, last that of everybody, which is the bill.
"""

import numpy as np

from coop.engines.lognormal import require

MOST_PLAYERS = 20
MOST_COVERED = 16
"""Players up to which the best partition of each coalition is sought: 3ⁿ comparisons."""
ROUND_OFF = 1e-9
"""Share of the greatest cost below which a difference between costs says nothing."""
MILLIGRAMS = 10**6
"""In a kilogram: masses are added in whole ones, so that 0.1 and 0.2 kg meet a step at 0.3 kg."""


def checked_amounts(name, amounts, *, least=1, most=MOST_PLAYERS):
    """One finite number for each player.

    name      str    –   of the argument, for the message
    amounts   (n,)   –   any unit
    least     int    –   fewest players
    most      int    –   most players

    Returns (n,) float.
    Raises ValueError that names the argument for too few or too many players, or a number that is not finite.
    Source: No source: house rule.
    """
    amounts = np.asarray(amounts, float)
    if amounts.ndim != 1 or not least <= amounts.size <= most:
        raise ValueError(f"{name} must be of {least} to {most} players, not of shape {amounts.shape}")
    require(name, amounts, np.isfinite(amounts), "finite")
    return amounts


def checked_costs(costs, *, most=MOST_PLAYERS):
    """A table of the costs of all coalitions.

    costs   (2ⁿ,)   minor units   in the order of the masks; any sign; nobody costs 0
    most    int     –             most players

    Returns (2ⁿ,) float.
    Raises ValueError for another length, more players, a cost that is not finite, or nobody who costs
        something.
    Source: No source: house rule.
    """
    costs = np.asarray(costs, float)
    is_table = costs.ndim == 1 and costs.size >= 2 and not costs.size & (costs.size - 1)
    if not is_table or costs.size > 2**most:
        raise ValueError(f"costs must be of all coalitions of 1 to {most} players, not {costs.shape}")
    require("costs", costs, np.isfinite(costs), "finite")
    if costs[0] != 0:
        raise ValueError(f"costs must begin with 0 for nobody, not {costs[0]}")
    return costs


def players_of(costs):
    """How many players a table of costs is about.

    costs   (2ⁿ,)   minor units   of all coalitions

    Returns int.
    Raises TypeError for what has no length.
    Source: No source: definition.
    """
    return len(costs).bit_length() - 1


def members_of(coalition):
    """The players of a coalition.

    coalition   int   –   bit mask, ≥ 0

    Returns tuple of int, the lowest first.
    Raises ValueError for a mask below 0.
    Source: No source: definition.
    """
    if coalition < 0:
        raise ValueError(f"coalition must be 0 or more, not {coalition}")
    return tuple(player for player in range(int(coalition).bit_length()) if coalition >> player & 1)


def membership(players):
    """Who is in which coalition.

    players   int   –   n, 1 to 20

    Returns (2ⁿ, n) bool.
    Raises ValueError for a count of players that is out of range.
    Source: No source: definition.
    """
    if not 1 <= players <= MOST_PLAYERS:
        raise ValueError(f"players must be 1 to {MOST_PLAYERS}, not {players}")
    return (np.arange(2**players)[:, None] >> np.arange(players) & 1).astype(bool)


def coalition_sums(amounts):
    """What the members of each coalition have together.

    amounts   (n,)   any   one for each player, n from 1 to 20

    Returns (2ⁿ,) of the same type and unit.
    Raises ValueError for no players or too many.
    Source: No source: addition; each player doubles the table.
    """
    amounts = np.asarray(amounts)
    if amounts.ndim != 1 or not 1 <= amounts.size <= MOST_PLAYERS:
        raise ValueError(f"amounts must be of 1 to {MOST_PLAYERS} players, not of shape {amounts.shape}")
    sums = np.zeros(2**amounts.size, amounts.dtype)
    for player, amount in enumerate(amounts):
        half = 2**player
        sums[half : 2 * half] = sums[:half] + amount
    return sums


def coalition_masses(masses):
    """What the lots of each coalition weigh together.

    masses   (n,)   kg   of the lots, > 0, read to the milligram

    Returns (2ⁿ,) kg, each the float that is nearest to the exact sum.
    Raises ValueError for a mass that is not positive, or no players or too many.
    Source: No source: addition.
    """
    masses = checked_amounts("masses", masses)
    require("masses", masses, masses > 0, "positive")
    return coalition_sums(np.rint(masses * MILLIGRAMS).astype(np.int64)) / MILLIGRAMS


def coalition_costs(masses, *, cost):
    """What each coalition would pay if it sent its lots as one consignment.

    masses   (n,)       kg   of the lots, > 0
    cost     function   –    of masses (k,) kg, each another, to what they cost (k,) in minor units

    Returns (2ⁿ,) minor units; nobody costs 0. The function is asked once, for each mass that occurs.
    Raises ValueError as coalition_masses, or for a cost that is not finite or is missing.
    Source: No source: definition of the cost game.
    """
    distinct, which = np.unique(coalition_masses(masses)[1:], return_inverse=True)
    asked = np.asarray(cost(distinct), float)
    if asked.shape != distinct.shape:
        raise ValueError(f"cost must give {distinct.size} costs, not shape {asked.shape}")
    require("cost", asked, np.isfinite(asked), "finite")
    return np.concatenate([[0.0], asked[which]])


def subadditive_cover(costs):
    """What each coalition pays if it may also part and send separately, whichever is cheapest.

    costs   (2ⁿ,)   minor units   of all coalitions as one consignment each, n up to 16

    Returns (2ⁿ,) minor units, nowhere above the costs.
    Raises ValueError as checked_costs.
    Source: Peleg & Sudhölter 2007, Introduction to the Theory of Cooperative Games, ch. 2 (from memory): the
        superadditive cover, with the signs of costs.
    """
    costs = checked_costs(costs, most=MOST_COVERED)
    players = players_of(costs)
    # Player i is axis n - 1 - i: all coalitions that hold or lack one part are then a view, without an index.
    whole = costs.reshape((2,) * players)
    best = whole.copy()
    for part in range(1, costs.size - 1):
        inside = [part >> player & 1 for player in reversed(range(players))]
        holds = tuple(1 if isin else slice(None) for isin in inside)
        lacks = tuple(0 if isin else slice(None) for isin in inside)
        np.minimum(best[holds], best[tuple(inside)] + whole[lacks], out=best[holds])
    return best.reshape(-1)
