"""What each of several traders pays of one bill: by weight, equally, serially, or never more than alone.

Rules that need the cost of every coalition are in shapley and nucleolus; core says who would rather leave.
Shares are floats that sum to the bill; largest_remainder makes money of them.
"""

from typing import NamedTuple

import numpy as np

from coop.engines.lognormal import require

MOST_LOTS = 100_000


class Capped(NamedTuple):
    """Shares (n,) in minor units, and whether nobody pays more than alone."""

    shares: np.ndarray
    feasible: bool


def by_weight(masses, *, bill):
    """Shares by weight: every kilogram pays the same.

    masses   (n,)     kg            of the lots, > 0
    bill     number   minor units   ≥ 0

    Returns (n,) minor units.
    Raises ValueError for no lots, a mass that is not positive, or a bill that is negative or not finite.
    Source: No source: definition; common practice.
    """
    masses, bill = checked_masses(masses), _bill(bill)
    return bill * (masses / masses.sum())


def equal(players, *, bill):
    """Shares that are all the same.

    players   int      –             who share, ≥ 1
    bill      number   minor units   ≥ 0

    Returns (n,) minor units.
    Raises ValueError for fewer than one player, or a bill that is negative or not finite.
    Source: No source: definition; common practice.
    """
    if isinstance(players, bool) or not isinstance(players, (int, np.integer)):
        raise ValueError(f"players must be whole, not {players!r}")
    if not 1 <= players <= MOST_LOTS:
        raise ValueError(f"players must be 1 to {MOST_LOTS}, not {players}")
    return np.full(players, _bill(bill) / players)


def serial_quantities(demands):
    """What all would ask for together if nobody asked for more than one of them, the smallest first.

    demands   (n,)   kg   or any other quantity, > 0

    Returns (n,) kg, rising; the last is the sum of all demands.
    Raises ValueError for no demands, or one that is not positive.
    Source: Moulin & Shenker 1992, Serial cost sharing, Econometrica 60:1009.
    """
    rising = np.sort(checked_masses(demands, name="demands"))
    larger = np.arange(rising.size, 0, -1)
    return np.concatenate([[0.0], np.cumsum(rising)[:-1]]) + larger * rising


def serial(demands, *, cost):
    """Serial shares: nobody pays for the size of those who ask for more.

    demands   (n,)       kg   or any other quantity, > 0
    cost      function   –    of quantities (n,) kg to what they cost (n,) in minor units; or those costs at
                              serial_quantities, in that order, as an array

    Returns (n,) minor units; they sum to the cost of all demands together. No quantity costs nothing.
    Raises ValueError for a demand that is not positive, or costs that are not finite or not as many.
    Source: Moulin & Shenker 1992, Serial cost sharing, Econometrica 60:1009.
    """
    quantities = serial_quantities(demands)
    costs = np.asarray(cost(quantities) if callable(cost) else cost, float)
    if costs.shape != quantities.shape:
        raise ValueError(f"cost must be {quantities.size} costs, not of shape {costs.shape}")
    require("cost", costs, np.isfinite(costs), "finite")
    larger = np.arange(quantities.size, 0, -1)
    shares = np.empty(quantities.size)
    shares[np.argsort(demands, kind="stable")] = np.cumsum(np.diff(costs, prepend=0.0) / larger)
    return shares


def capped(masses, *, bill, alone):
    """Shares by weight, but nobody's above what going alone would cost.

    masses   (n,)     kg            of the lots, > 0
    bill     number   minor units   ≥ 0
    alone    (n,)     minor units   each one's own cheapest alternative, ≥ 0; inf for who has none

    Returns Capped. What the cap takes off is spread by weight over those below theirs, until the bill is
        covered. If alone sums to less than the bill it cannot be: then feasible is False, all pay alone and
        what is missing by weight, so that no share jumps when the bill crosses that sum.
    Raises ValueError for masses or a bill as by_weight, or an alternative that is negative or missing.
    Source: No source: house rule; with equal weights it is constrained equal awards (Thomson 2003).
    """
    masses, bill = checked_masses(masses), _bill(bill)
    alone = np.asarray(alone, float)
    if alone.shape != masses.shape:
        raise ValueError(f"alone must be {masses.size} costs, not of shape {alone.shape}")
    require("alone", alone, alone >= 0, "0 or more")
    missing = bill - alone.sum()
    if missing > 0:
        return Capped(alone + missing * (masses / masses.sum()), False)
    return Capped(_filled(masses, bill, alone), True)


def checked_masses(masses, *, name="masses"):
    """Positive quantities, one for each lot.

    masses   (n,)   kg   > 0
    name     str    –    of the argument, for the message

    Returns (n,) float.
    Raises ValueError that names the argument for no lots, or one that is not positive or not finite.
    Source: No source: house rule.
    """
    masses = np.asarray(masses, float)
    if masses.ndim != 1 or not 1 <= masses.size <= MOST_LOTS:
        raise ValueError(f"{name} must be of 1 to {MOST_LOTS} lots, not of shape {masses.shape}")
    require(name, masses, (masses > 0) & np.isfinite(masses), "positive")
    return masses


def _filled(masses, bill, alone):
    """Each the smaller of the cap and one price a kilogram, the price being what the bill asks for."""
    order = np.argsort(alone / masses, kind="stable")
    caps, weights = alone[order], masses[order]
    capped_before = np.concatenate([[0.0], np.cumsum(caps[:-1])])
    weight_left = np.cumsum(weights[::-1])[::-1]
    price = (bill - capped_before) / weight_left
    # The first whose cap is not reached at the price that is left sets it; the last may miss it by round-off.
    first = min(np.count_nonzero(np.minimum.accumulate(price * weights > caps)), masses.size - 1)
    return np.minimum(alone, price[first] * masses)


def _bill(bill):
    value = np.asarray(bill, float)
    require("bill", value, (value >= 0) & np.isfinite(value), "0 or more")
    return float(value)
