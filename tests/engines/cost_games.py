"""Published cost games, and Kohlberg's criterion, which tells a nucleolus without searching for one."""

from itertools import combinations

import numpy as np
from scipy.optimize import linprog

from coop.engines.coalitions import coalition_sums, membership, players_of


def coalitions(players):
    """All but nobody: tuples of players from 0 on, as a dictionary orders them: 0, 01, 012, …, 02, …, 1, …"""
    sizes = range(1, players + 1)
    return sorted(group for size in sizes for group in combinations(range(players), size))


def table(costs):
    """Costs by coalition, each a tuple of players, as a table in the order of the masks."""
    players = 1 + max(max(group) for group in costs)
    found = np.full(2**players, np.nan)
    found[0] = 0
    for group, cost in costs.items():
        found[sum(1 << player for player in group)] = cost
    return found


def by_dictionary(values, players):
    return table(dict(zip(coalitions(players), values, strict=True)))


def by_size(values, players):
    """Single players first, then the pairs, and so on."""
    groups = sorted(coalitions(players), key=lambda group: (len(group), group))
    return table(dict(zip(groups, values, strict=True)))


def airport(costs):
    """The largest of a coalition counts: each needs a runway, or a ride, that serves all smaller ones too."""
    groups = coalitions(len(costs))
    return table({group: max(costs[player] for player in group) for group in groups})


def bankruptcy(claims, estate):
    """What each coalition is sure to get of the estate, as a cost below 0."""
    others = np.sum(claims) - coalition_sums(np.asarray(claims, float))
    game = -np.maximum(0.0, estate - others)
    game[0] = 0
    return game


def glove(left, right):
    groups = coalitions(left + right)
    return table({g: -min(sum(i < left for i in g), sum(i >= left for i in g)) for g in groups})


def lots(masses, *, capacity, cost):
    """A carton for each capacity begun."""
    return cost * np.ceil(coalition_sums(np.asarray(masses)) / capacity)


# Water supply of six groups of municipalities in Skåne, million crowns (Young, Okada & Hashimoto 1979, IIASA
# WP-79-77; 1982, Water Resour. Res. 18:463). Costs of single groups and of five: Table 8, read; all others
# from memory, and Shapley's values of Table 7, which rest on every one of them, come out to the last digit.
SKANE = {
    **{"A": 21.95, "H": 17.08, "K": 10.91, "L": 15.88, "M": 20.81, "T": 21.98},
    **{"AH": 34.69, "AK": 32.86, "AL": 37.83, "AM": 42.76, "AT": 43.93, "HK": 22.96, "HL": 25.00},
    **{"HM": 37.89, "HT": 39.06, "KL": 26.79, "KM": 31.45, "KT": 32.89, "LM": 31.10, "LT": 37.86},
    **{"MT": 39.41, "AHK": 40.74, "AHL": 43.22, "AHM": 55.50, "AHT": 56.67, "AKL": 48.74, "AKM": 53.40},
    **{"AKT": 54.84, "ALM": 53.05, "ALT": 59.81, "AMT": 61.36, "HKL": 27.26, "HKM": 42.55, "HKT": 44.94},
    **{"HLM": 45.81, "HLT": 46.98, "HMT": 56.49, "KLM": 42.01, "KLT": 48.77, "KMT": 50.32, "LMT": 51.46},
    **{"AHKL": 48.95, "AHKM": 60.25, "AHKT": 62.72, "AHLM": 64.03, "AHLT": 65.20, "AHMT": 74.10},
    **{"AKLM": 63.96, "AKLT": 70.72, "AKMT": 72.27, "ALMT": 73.41, "HKLM": 48.07, "HKLT": 49.24},
    **{"HKMT": 59.35, "HLMT": 64.41, "KLMT": 56.61, "AHKLM": 69.76, "AHKMT": 77.42, "AHLMT": 83.00},
    **{"AHKLT": 70.93, "AKLMT": 73.97, "HKLMT": 66.46, "AHKLMT": 83.82},
}


def skane():
    return table({tuple("AHKLMT".index(letter) for letter in name): cost for name, cost in SKANE.items()})


def objects_to(costs, shares, *, tolerance=1e-7):
    """How far Kohlberg's criterion is broken: 0 for the nucleolus, and for nothing else.

    Kohlberg 1971, SIAM J. Appl. Math. 20:62: for every level of saving, a move that takes nothing from any
    coalition which saves no more than that, nor from anybody who pays as much as alone, gives nothing to any
    of them. Where alone costs less in sum than the bill, nobody is kept from paying more (the prenucleolus).
    """
    players = players_of(costs)
    members = membership(players).astype(float)[1:-1]
    scale = np.abs(costs).max() or 1.0
    saving = (costs - coalition_sums(np.asarray(shares, float)))[1:-1] / scale
    alone = costs[2 ** np.arange(players)]
    at_limit = (alone - shares < tolerance * scale) & (costs[-1] <= alone.sum() + tolerance * scale)
    limits = np.eye(players)[at_limit]
    broken = 0.0
    for level in np.unique(np.round(saving, 7)):
        worst = members[saving <= level + tolerance]
        rows = np.vstack([worst, limits])
        found = linprog(
            worst.sum(axis=0),
            A_ub=rows,
            b_ub=np.zeros(len(rows)),
            A_eq=np.ones((1, players)),
            b_eq=[0],
            bounds=(-1, 1),
        )
        broken = max(broken, -found.fun)
        if np.linalg.matrix_rank(np.vstack([worst, np.ones(players)])) == players:
            break
    return broken
