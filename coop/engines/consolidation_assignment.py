"""Lots into cartons that are open or may be opened: the exact programme for a few of them."""

import math

import numpy as np

from coop.engines.consolidation_bill import GRAMS
from coop.engines.consolidation_columns import Filled
from coop.engines.linear_programme import READ, solver

LITRE = 10**6


def assigned(draft, rows, shells, *, seconds, gap=1e-6):
    """The plan of a draft with what it has left laid as cheaply as can be into some cartons, one by one.

    draft     Draft    –   its cartons stay as they are
    rows      Rows     –   of its day
    shells    (k,)     –   Filled: cartons that may be opened, with what certainly lies in them if they are
    seconds   float    s   after which it stops with what it has
    gap       float    –   share of the cost within which it is good enough

    Returns tuple of Filled, or None if nothing was found in time.
    Raises IndexError for shells of another day.
    Source: No source: an assignment programme; its minimums and steps are those of the rows.
    """
    programme = rows.programme.copy()
    model = _Assignment(programme, draft, rows)
    for carton in draft.filled:
        model.keep(carton)
    for carton in shells:
        model.offer(carton)
    highs = solver(programme, whole=True, time_limit=max(seconds, 0.0), mip_rel_gap=gap)
    highs.run()
    if highs.getModelStatus() not in READ or highs.getInfo().primal_solution_status != 2:
        return None
    return (*draft.filled, *model.read(np.array(highs.getSolution().col_value)))


class _Assignment:
    """Columns for each shell: whether it is opened, how many lots of a class, or how many kg."""

    def __init__(self, programme, draft, rows):
        self.programme, self.draft, self.rows, self.day = programme, draft, rows, draft.day
        self.shells = []

    def keep(self, carton):
        """A carton that stays as it is."""
        cost, entries = self._contents(carton)
        column = self.programme.column(cost, *entries, upper=1)
        self.programme.columns[column] = self.programme.columns[column]._replace(lower=1.0)

    def offer(self, carton):
        """A carton that may be opened: with what lies in it for certain, and any of the rest that fits."""
        room, lots = self.day.rooms[carton.offer], self.draft.contents[carton.offer]
        cost, entries = self._contents(carton)
        mass, bulk = self.draft.ledger.grams(carton), sum(self.draft.bulks(carton, lots))
        limits = [(self.programme.row(-math.inf, 0), 1.0 / GRAMS, room.capacity - mass)]
        if room.volume:
            limits.append((self.programme.row(-math.inf, 0), 1.0 / LITRE, room.volume - bulk))
        entries += [(row, -space * unit) for row, unit, space in limits]
        least = None
        if room.least > mass:
            least = self.programme.row(0, math.inf)
            entries.append((least, (mass - room.least) / GRAMS))
        opened = self.programme.column(cost, *entries, upper=1, whole=True)
        chosen = self._lots(carton, lots, limits, least, opened)
        if any(carton.counts):
            self.programme.columns[opened] = self.programme.columns[opened]._replace(lower=1.0)
        self.shells.append((carton, opened, chosen))

    def _lots(self, carton, lots, limits, least, opened):
        """Columns of the lots that may join a carton, with those that clash kept apart."""
        chosen, kinds = {}, {}
        for row in self.draft.rest.rows():
            if not self.draft.fitting(row, carton):
                continue
            mass, bulk = int(lots.mass[row]), int(lots.volume[row])
            model = self.day.offers[carton.offer]
            own = [(self.rows.cover[row], 1.0)]
            weight = 1.0 if self.day.is_divisible(row) else mass / GRAMS
            own.append((limits[0][0], weight))
            if len(limits) > 1:
                own.append((limits[1][0], weight * GRAMS * bulk / mass / LITRE))
            if least is not None:
                own.append((least, weight))
            if self.rows.gross[carton.offer] is not None:
                own.append((self.rows.gross[carton.offer], weight * float(model.gross_per_kilogram)))
            cost = float(model.kilogram_cost) * weight
            if self.day.is_divisible(row):
                most = min(int(self.draft.rest.grams[row]), limits[0][2]) / GRAMS
                top, low = self.programme.row(-math.inf, 0), self.programme.row(0, math.inf)
                inside = 0.0 if carton.counts[row] else mass / GRAMS
                joins = self.programme.column(0, (top, -most), (low, -inside), upper=1, whole=True)
                chosen[row] = self.programme.column(cost, *own, (top, 1), (low, 1), upper=most)
            else:
                most = min(int(self.draft.rest.lots[row]), limits[0][2] // mass)
                if lots.clashes[row] & lots.kind[row]:
                    most = 1
                joins = chosen[row] = self.programme.column(cost, *own, upper=most, whole=True)
            if lots.kind[row]:
                kinds.setdefault((int(lots.kind[row]), int(lots.clashes[row])), []).append(
                    (joins, max(most, 1))
                )
        self._apart(kinds)
        return chosen

    def _apart(self, kinds):
        """No two lots of kinds that clash: pair by pair, each with its own number as the coefficient."""
        pairs = [(one, other) for one in kinds for other in kinds if one < other and one[1] & other[0]]
        pairs += [(one, one) for one in kinds if one[1] & one[0]]
        for one, other in pairs:
            for place, (first, most) in enumerate(kinds[one]):
                for second, top in kinds[other][place + 1 if one == other else 0 :]:
                    row = self.programme.row(-math.inf, 1)
                    self._extend(first, (row, 1.0 / self._whole(first, most)))
                    self._extend(second, (row, 1.0 / self._whole(second, top)))

    def _whole(self, column, most):
        return most if self.programme.columns[column].upper > 1 else 1

    def _extend(self, column, entry):
        old = self.programme.columns[column]
        self.programme.columns[column] = old._replace(entries=(*old.entries, entry))

    def _contents(self, carton):
        """Cost and entries of what certainly lies in a carton."""
        offer, model = carton.offer, self.day.offers[carton.offer]
        kilograms = self.draft.ledger.grams(carton) / GRAMS
        entries = [(self.rows.cartons[offer], 1.0)]
        if self.rows.gross[offer] is not None:
            entries.append(
                (self.rows.gross[offer], float(model.tare) + float(model.gross_per_kilogram) * kilograms)
            )
        for row in np.flatnonzero(carton.counts).tolist():
            amount = carton.counts[row]
            if self.day.is_divisible(row):
                amount = (amount * int(self.day.contents.mass[row]) + carton.extra[row]) / GRAMS
            entries.append((self.rows.cover[row], amount))
        return float(model.kilogram_cost) * kilograms, entries

    def read(self, values):
        """Cartons of a solution, rounded to grams."""
        for carton, opened, chosen in self.shells:
            if values[opened] < 0.5:
                continue
            counts, extra = [*carton.counts], [*carton.extra]
            for row, column in chosen.items():
                if not self.day.is_divisible(row):
                    counts[row] += round(values[column])
                elif values[column] > 1e-6:
                    least = 0 if counts[row] else int(self.day.contents.mass[row])
                    counts[row] = 1
                    extra[row] += max(0, round(values[column] * GRAMS) - least)
            if any(counts):
                yield Filled(carton.offer, tuple(counts), tuple(extra))
