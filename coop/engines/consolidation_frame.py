"""The cartons of an outline, and how much each consignment may weigh: what whole lots are then laid into."""

from fractions import Fraction
from typing import NamedTuple

import numpy as np

from coop.engines.consolidation_bill import GRAMS
from coop.engines.consolidation_rest import Rest


class Frame(NamedTuple):
    """The offer of each carton; of each offer the kg gross at which its chosen step ends, None without one.

    steps: columns of the steps that lie no higher than the chosen ones; stays: g that the outline leaves.
    """

    offers: tuple[int, ...]
    borders: tuple[Fraction | None, ...]
    steps: frozenset[int]
    stays: int


def frame_of(rows, day, values):
    """What an outline has decided.

    rows     Rows   –
    day      Day    –   of these rows
    values   (c,)   –   of their columns

    Returns Frame.
    Raises IndexError for values of other rows.
    Source: No source: reads a solution.
    """
    numbers = [round(values[column]) for column in rows.number]
    borders = [
        next((step.until for step in steps if values[step.column] > 0.5), None) for steps in rows.steps
    ]
    below = [
        step.column
        for steps, border in zip(rows.steps, borders, strict=True)
        for step in steps
        if border is not None and step.until <= border
    ]
    offers = [offer for offer, number in enumerate(numbers) for _ in range(number)]
    unit = np.where(day.contents.extra > 0, GRAMS, day.contents.mass)
    stays = round(float(unit @ values[list(rows.left)]))
    return Frame(tuple(offers), tuple(borders), frozenset(below), stays)


def lacking(frame, day, cartons):
    """What finds no room in a frame, beyond what its outline leaves anyway.

    frame     Frame   –
    day       Day     –
    cartons   (k,)    –   Filled, laid into the frame's cartons

    Returns float kg: what stays of all lots, and by how much each consignment must weigh less for its step.
    Raises IndexError for cartons of another day.
    Source: No source: addition.
    """
    rest = Rest(day, cartons)
    stays = int((rest.lots * day.contents.mass).sum() + rest.grams.sum())
    return max(0, stays - frame.stays) / GRAMS + float(sum(_beyond(frame, day, cartons)))


def _beyond(frame, day, cartons):
    """kg of each consignment that reaches the end of its step; there the next begins, so a gram more."""
    gross = {}
    for carton in cartons:
        offer = day.offers[carton.offer]
        grams = int(np.dot(carton.counts, day.contents.mass)) + sum(carton.extra)
        own = offer.tare + offer.gross_per_kilogram * grams / GRAMS
        gross[carton.offer] = gross.get(carton.offer, 0) + own
    for offer, mass in gross.items():
        border = frame.borders[offer]
        if border is not None and mass >= border:
            yield mass - border + Fraction(1, GRAMS)
