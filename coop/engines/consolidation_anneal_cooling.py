"""Compiled cooling: moves are drawn, weighed, and kept or undone, less and less against the cost.

Kirkpatrick, Gelatt & Vecchi 1983, Optimization by simulated annealing, Science 220:671 (from memory); a move
that costs more is kept as Metropolis et al. 1953, J. Chem. Phys. 21:1087 (from memory) have it.
"""

import numpy as np

from coop.engines.conduction_kernel import compiled
from coop.engines.consolidation_anneal_kernel import (
    OFFER,
    SHORT,
    TRUE_LEFT,
    chance,
    do,
    settle,
    undo,
    weigh,
)
from coop.engines.consolidation_anneal_moves import draw

NOTICED = 1e-3
"""Minor units below which a plan counts as no cheaper."""


@compiled
def anneal(luck, state, fares, best, moves, sums, heat):
    """Moves on while it cools; `best` keeps the amounts and offers of the least cost seen.

    heat: moves, temperature at first and at last, minor units for a missing g. sums: true cost of lots left
    above the capped, g missing, cost now, least cost seen.
    """
    lots, cartons, offers, places, amount, inside, carries, worth, paid = state
    steps, temperature, last, dearth = int(heat[0]), heat[1], heat[2], heat[3]
    is_framed = heat[4] > 0.0
    cooling = (last / temperature) ** (1.0 / steps)
    new, is_new = np.zeros(2), False
    for _ in range(steps):
        temperature *= cooling
        count = draw(luck, lots, cartons, offers, places, amount, inside, carries, moves, is_framed)
        if count == 0:
            continue
        change = weigh(
            lots, cartons, offers, places, amount, inside, carries,
            worth, paid, fares, moves, count, new, dearth,
        )  # fmt: skip
        if change > 0.0 and chance(luck) >= np.exp(-change / temperature):
            undo(lots, cartons, offers, places, amount, inside, moves, count)
            continue
        if is_new and (change + new[TRUE_LEFT] > 0.0 or new[SHORT] > 0.0):
            # The least is copied only as it is left, not at each step on the way down.
            undo(lots, cartons, offers, places, amount, inside, moves, count)
            keep(cartons, amount, best)
            is_new = False
            do(lots, cartons, offers, places, amount, inside, moves, count)
        settle(cartons, offers, paid, fares, moves, count)
        sums[TRUE_LEFT] += new[TRUE_LEFT]
        sums[SHORT] += new[SHORT]
        sums[2] += change
        if sums[SHORT] == 0.0 and sums[2] + sums[TRUE_LEFT] < sums[3] - NOTICED:
            sums[3], is_new = sums[2] + sums[TRUE_LEFT], True
    if is_new:
        keep(cartons, amount, best)


@compiled
def keep(cartons, amount, best):
    """Copies what lies where."""
    best[0][:] = amount
    best[1][:] = cartons[:, OFFER]
