"""How many cartons on which departure, with all that must be whole: the plan in outline, and a better bound.

Lots are poured into offers, not laid into cartons. What keeps that honest are rewards: no carton of an offer
earns more than the best content found for them, so n of them earn at most n times as much.
"""

import math
from typing import NamedTuple

import numpy as np

from coop.engines.consolidation_bill import GRAMS
from coop.engines.linear_programme import READ, solver


class Outline(NamedTuple):
    """Values of the columns of the rows (None if nothing was found), what no plan costs less than, own cost.

    Both in minor units; without values the cost is infinite.
    """

    values: np.ndarray | None
    bound: float
    cost: float


def outline(relaxation, *, seconds, gap, spare=0.0, random_seed=0):
    """The least costly outline of a plan.

    relaxation   Relaxation   –   converged at least once
    seconds      float        s   after which it stops with what it has
    gap          float        –   share of the cost within which it is good enough
    spare        float        –   share of each carton that stays empty
    random_seed  int          –   of the solver: of outlines that cost the same it finds another

    Returns Outline; its bound holds for every plan if nothing is spared.
    Raises AttributeError for what is no relaxation.
    Source: Lagrangian cuts, one for each offer and set of rewards; with those of the converged relaxation its
        bound is reached already before anything must be whole (Geoffrion 1974, from memory).
    """
    programme = relaxation.rows.programme.copy()
    day, rows = relaxation.day, relaxation.rows
    for row in rows.cartons:
        programme.rows[row] = (-math.inf, math.inf)
    for offer in range(len(day.offers)):
        _pour(programme, relaxation, offer, spare)
        _spare_below_steps(programme, rows.steps[offer], spare)
    highs = solver(
        programme, whole=True, time_limit=max(seconds, 0.0), mip_rel_gap=gap, random_seed=random_seed
    )
    highs.run()
    if highs.getModelStatus() not in READ:
        return Outline(None, -math.inf, math.inf)
    info = highs.getInfo()
    if info.primal_solution_status != 2:
        return Outline(None, info.mip_dual_bound, math.inf)
    values = np.array(highs.getSolution().col_value)
    return Outline(values, info.mip_dual_bound, info.objective_function_value)


def _pour(programme, relaxation, offer, spare):
    """Columns for how much of each class an offer takes, and the rows that they share with its cartons."""
    day, rows, model = relaxation.day, relaxation.rows, relaxation.day.offers[offer]
    lots, room = relaxation.contents[offer], day.rooms[offer]
    whole, many = lots.count > 0, []
    kilograms = lots.mass / GRAMS
    unit = np.where(lots.extra > 0, kilograms, 1.0)
    many.append((kilograms / unit, (1 - spare) * room.capacity / GRAMS))
    if room.least:
        many.append((-kilograms / unit, -room.least / GRAMS))
    if room.volume:
        many.append((lots.volume / unit / 10**6, room.volume / 10**6))
    for prices, most in relaxation.cuts:
        scale = max(1.0, float(np.abs(prices.rewards[offer]).max()))
        many.append((prices.rewards[offer] / unit / scale, most[offer] / scale))
    shared = [programme.row(-math.inf, 0) for _ in many]
    number = programme.columns[rows.number[offer]]
    entries = [*number.entries, *((row, -each) for row, (_, each) in zip(shared, many, strict=True))]
    gross = rows.gross[offer]
    if gross is not None:
        entries.append((gross, float(model.tare)))
    programme.columns[rows.number[offer]] = number._replace(entries=tuple(entries))
    for row in np.flatnonzero(whole).tolist():
        amount = programme.rows[rows.cover[row]][0]
        own = [(rows.cover[row], 1.0)]
        own += [(each, float(rate[row])) for each, (rate, _) in zip(shared, many, strict=True) if rate[row]]
        mass = float(kilograms[row] / unit[row])
        if gross is not None:
            own.append((gross, float(model.gross_per_kilogram) * mass))
        if rows.opened[offer] is not None and (offer, row) in relaxation.links:
            link = programme.row(-math.inf, 0)
            own.append((link, 1.0))
            opened = programme.columns[rows.opened[offer]]
            programme.columns[rows.opened[offer]] = opened._replace(
                entries=(*opened.entries, (link, -amount))
            )
        programme.column(float(model.kilogram_cost) * mass, *own, upper=amount)


def _spare_below_steps(programme, steps, spare):
    """As much less below each border of a tariff as in a carton: there whole lots do not add up, either.

    What lies between is shut out for this outline, which proves nothing anyway.
    """
    for step in steps[:-1]:
        column = programme.columns[step.column]
        entries = {**dict(column.entries), step.row: -float(step.end) * (1 - spare)}
        programme.columns[step.column] = column._replace(entries=tuple(entries.items()))
