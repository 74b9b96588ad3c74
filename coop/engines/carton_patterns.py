"""What may lie in one carton: the most rewarding content for given rewards, and every rewarding one.

Depth first over lots by reward for the room they take, cut off where not even a fluid of the rest would do.
Lots of a kind are counted, not told apart. A lot that may be split is either left out or put in with its
least part; of the rest, `extra`, it then takes any amount.
"""

from typing import NamedTuple

import numpy as np

from coop.engines.conduction_kernel import compiled

MOST_KINDS = 62
CLOSE, TINY = 1e-9, 1e-12


class Contents(NamedTuple):
    """Lots that a carton may take, one row a kind of lot.

    mass g, volume mm³ of one lot or least part; count of them; extra g that a split lot may take besides;
    kind and clashes as bits, of the species and of those that it may not lie beside.
    """

    mass: np.ndarray
    volume: np.ndarray
    count: np.ndarray
    extra: np.ndarray
    kind: np.ndarray
    clashes: np.ndarray


class Room(NamedTuple):
    """Most and least g of fish in a carton, and most mm³."""

    capacity: int
    volume: int
    least: int


class Pattern(NamedTuple):
    """A content: how many of each kind, extra g of the split ones, and its reward."""

    counts: np.ndarray
    extra: np.ndarray
    reward: float


def best_pattern(contents, *, room, rewards, threshold, node_limit):
    """The content of a carton with the greatest reward.

    contents     Contents   –   n kinds of lots
    room         Room       –
    rewards      (n,)       –   of one lot or least part, any sign; extra is rewarded alike by the gram
    threshold    float      –   nothing at or below this is of interest
    node_limit   int        –   contents looked at before giving up

    Returns (Pattern or None, float): the best found, and a reward that certainly none exceeds.
    Raises ValueError for more kinds that clash than fit the bits.
    Source: Martello & Toth 1990, Knapsack Problems, ch. 2–3 (from memory): branch and bound on the bound of
        Dantzig; with volume on the better of three sums of both limits (surrogate relaxation).
    """
    best = np.zeros((2, len(contents.mass)), np.int64)
    none = np.zeros((0, len(contents.mass)), np.int64)
    reward, upper, _, _ = _walk(tuple(contents), rewards, tuple(room), threshold, node_limit, best, none)
    if not best[0].any():
        return None, upper
    return Pattern(best[0], best[1], reward), upper


def patterns_above(contents, *, room, rewards, threshold, limit, node_limit):
    """Every content of a carton with at least a given reward.

    contents     Contents   –   n kinds of lots
    room         Room       –
    rewards      (n,)       –   of one lot or least part, any sign; extra is rewarded alike by the gram
    threshold    float      –   least reward, with the best extra that fits
    limit        int        –   most contents wanted
    node_limit   int        –   contents looked at before giving up

    Returns (k, n) int counts, and whether these are all; it stops at the limit.
    Raises ValueError for more kinds that clash than fit the bits.
    Source: Baldacci, Christofides & Mingozzi 2008, Math. Program. 115:351 (from memory): only columns whose
        reduced cost is within the gap can be in a better plan.
    """
    best = np.zeros((2, len(contents.mass)), np.int64)
    kept = np.zeros((max(limit, 1), len(contents.mass)), np.int64)
    _, _, number, is_whole = _walk(tuple(contents), rewards, tuple(room), threshold, node_limit, best, kept)
    return kept[:number], is_whole


@compiled
def _walk(lots, rewards, limits, threshold, node_limit, best, kept):
    """Searches among the rows that may lie in the carton, in order of reward for the room they take."""
    mass, volume, count = lots[0], lots[1], lots[2]
    rows = np.flatnonzero((mass <= limits[0]) & (volume <= limits[1]) & (count > 0))
    sizes = _size(mass[rows] / limits[0], volume[rows] / max(limits[1], 1), lots, rows, rewards)
    density = np.empty(len(rows))
    for k in range(len(rows)):
        density[k] = -rewards[rows[k]] / max(sizes[k], TINY)
    order = np.argsort(density, kind="mergesort")
    rows, sizes = rows[order], sizes[order]
    picked = (mass[rows], volume[rows], count[rows], lots[3][rows], lots[4][rows], lots[5][rows])
    own_best, own_kept = np.zeros((2, len(rows)), np.int64), np.zeros((len(kept), len(rows)), np.int64)
    reward, upper, number, is_whole = _search(
        picked, rewards[rows], sizes, 1.0 + CLOSE, limits, threshold, node_limit, own_best, own_kept
    )
    for k in range(len(rows)):
        best[:, rows[k]] = own_best[:, k]
        kept[:number, rows[k]] = own_kept[:number, k]
    return reward, upper, number, is_whole


@compiled
def _size(by_mass, by_volume, lots, rows, rewards):
    """Room that one lot takes, the carton being 1: of kg, of volume or half of each, whichever binds most."""
    best, lowest = by_mass, _fluid(by_mass, lots, rows, rewards)
    if by_volume.any():
        for share in (0.5, 1.0):
            mix = (1.0 - share) * by_mass + share * by_volume
            reward = _fluid(mix, lots, rows, rewards)
            if reward < lowest:
                best, lowest = mix, reward
    return best


@compiled
def _fluid(size, lots, rows, rewards):
    """Reward of a carton filled with lots as with a fluid."""
    density = np.empty(len(rows))
    for k in range(len(rows)):
        density[k] = -rewards[rows[k]] / max(size[k], TINY)
    gained, space = 0.0, 1.0
    for k in np.argsort(density, kind="mergesort"):
        i = rows[k]
        if rewards[i] <= 0.0 or space <= 0.0:
            break
        units = lots[2][i] * (1.0 + lots[3][i] / lots[0][i])
        fits = units if size[k] <= 0.0 else min(units, space / size[k])
        gained += fits * rewards[i]
        space -= fits * size[k]
    return gained


@compiled
def _bound(at, take, mass, count, extra, reward, size, gained, space):
    """Reward if the rest were a fluid: what is undecided, and the extra of split lots that are in."""
    bound = gained
    for i in range(len(mass)):
        if reward[i] <= 0.0 or space <= 0.0:
            break
        units = 0.0
        if i >= at:
            units = count[i] * (1.0 + extra[i] / mass[i])
        elif take[i] > 0 and extra[i] > 0:
            units = take[i] * extra[i] / mass[i]
        if units > 0.0:
            fits = units if size[i] <= 0.0 else min(units, space / size[i])
            bound += fits * reward[i]
            space -= fits * size[i]
    return bound


@compiled
def _fill(take, mass, volume, extra, reward, weight, room, most, least, spread):
    """Extra g of the split lots that are in, written to `spread`; their reward, or −inf below the least."""
    gained = 0.0
    for i in range(len(mass)):
        spread[i] = 0
        if take[i] == 0 or extra[i] == 0:
            continue
        wanted = min(extra[i], most - weight)
        if reward[i] <= 0.0:
            wanted = min(wanted, max(least - weight, 0))
        if volume[i] > 0:
            wanted = min(wanted, np.int64(room * (mass[i] / volume[i])))
        if wanted > 0:
            spread[i] = wanted
            weight += wanted
            room -= np.int64(np.ceil(wanted * (volume[i] / mass[i])))
            gained += wanted * (reward[i] / mass[i])
    return gained if weight >= least else -np.inf


@compiled
def _fits(i, take, mass, volume, count, kind, clashes, weight, bulk, most, room, inside):
    """How many of lot i still fit, beside what is inside."""
    if clashes[i] & inside:
        return 0
    units = min(count[i], (most - weight) // mass[i])
    if volume[i] > 0:
        units = min(units, (room - bulk) // volume[i])
    if clashes[i] & kind[i]:
        units = min(units, 1)
    return units


@compiled
def _kinds_inside(take, kind):
    inside = np.int64(0)
    for i in range(len(take)):
        if take[i] > 0:
            inside |= kind[i]
    return inside


@compiled
def _reachable(mass, count, extra):
    """Most g that the lots from each place on could add."""
    left = np.zeros(len(mass) + 1, np.int64)
    for i in range(len(mass) - 1, -1, -1):
        left[i] = left[i + 1] + mass[i] * count[i] + extra[i]
    return left


@compiled
def _extras_inside(take, extra):
    total = np.int64(0)
    for i in range(len(take)):
        if take[i] > 0:
            total += extra[i]
    return total


@compiled
def _search(lots, reward, size, space, limits, threshold, node_limit, best, kept):
    """Walks over contents: the best one into `best`, or each above the threshold into a row of `kept`.

    Returns the greatest reward, what none exceeds, how many were kept, and whether it saw all.
    """
    mass, volume, count, extra, kind, clashes = lots
    most, room, least = limits
    n = len(mass)
    take, spread = np.zeros(n, np.int64), np.zeros(n, np.int64)
    reachable = _reachable(mass, count, extra)
    highest, root = threshold, _bound(0, take, mass, count, extra, reward, size, 0.0, space)
    weight, bulk, gained, used, inside = np.int64(0), np.int64(0), 0.0, 0.0, np.int64(0)
    at, nodes, number, sure = 0, 0, 0, threshold
    while True:
        hopeful = at < n and weight + reachable[at] + _extras_inside(take, extra) >= least
        if hopeful:
            bound = _bound(at, take, mass, count, extra, reward, size, gained, space - used)
            hopeful = bound > highest + CLOSE * abs(highest)
        if hopeful:
            change = _fits(at, take, mass, volume, count, kind, clashes, weight, bulk, most, room, inside)
            at += 1
        else:
            last = at - 1
            while last >= 0 and take[last] == 0:
                last -= 1
            if last < 0:
                return highest, max(highest, sure), number, True
            change, at = -1, last + 1
        if change == 0:
            continue
        i = at - 1
        take[i] += change
        weight += change * mass[i]
        bulk += change * volume[i]
        gained += change * reward[i]
        used += change * size[i]
        inside = _kinds_inside(take, kind)
        nodes += 1
        if nodes > node_limit or number == len(kept) > 0:
            return highest, max(root, highest), number, False
        if take[i] == 0:
            continue  # without i it was seen before
        total = gained + _fill(take, mass, volume, extra, reward, weight, room - bulk, most, least, spread)
        # Under two limits at once the filling is only good; a fluid is certainly no worse than the best.
        ceiling = total
        if room > 0 and _extras_inside(take, extra) > 0:
            ceiling = _bound(n, take, mass, count, extra, reward, size, gained, space - used)
        sure = max(sure, ceiling)
        if len(kept) and ceiling > threshold:
            kept[number] = take
            number += 1
        elif not len(kept) and total > highest:
            highest = total
            best[0], best[1] = take, spread
