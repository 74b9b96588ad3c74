"""Which of many possible cartons make the plan: the whole-number programme over them, solved by HiGHS."""

import math
from typing import NamedTuple

import numpy as np

from coop.engines.consolidation_bill import GRAMS
from coop.engines.consolidation_columns import Filled
from coop.engines.linear_programme import READ, solver


class Choice(NamedTuple):
    """Cartons, or None if none was found, and the cost that no plan over the given contents goes below."""

    cartons: tuple[Filled, ...] | None
    bound: float


def chosen(relaxation, contents, *, seconds, gap):
    """The least costly plan made of given contents of cartons, within the relaxation's present bounds.

    relaxation   Relaxation   –
    contents     (k,)         –   (offer, lots of each class), of divisible lots the least part or more
    seconds      float        s   after which it stops with what it has
    gap          float        –   share of the cost within which a plan is good enough

    Returns Choice.
    Raises IndexError for contents of another day.
    Source: Gilmore & Gomory 1961, Oper. Res. 9:849 (from memory): a column a content of a carton.
    """
    model = _Model(relaxation, contents)
    highs = solver(
        model.programme,
        whole=True,
        time_limit=max(seconds, 0.0),
        mip_rel_gap=gap,
        mip_feasibility_tolerance=1e-7,
    )
    highs.run()
    info = highs.getInfo()
    if highs.getModelStatus() not in READ:
        return Choice(None, -math.inf)
    found = None
    if info.primal_solution_status == 2:
        found = model.read(np.array(highs.getSolution().col_value))
    return Choice(found, info.mip_dual_bound)


class _Model:
    """A column for each content: how often; and one for each divisible lot in it: how many kg in all."""

    def __init__(self, relaxation, contents):
        self.day, self.rows = relaxation.day, relaxation.rows
        self.programme = self.rows.programme.copy()
        self.contents, self.often, self.kilograms = contents, [], []
        self.links = {key: self._link(*key) for key in sorted(relaxation.links)}
        for number, (lower, upper) in enumerate(relaxation.columns.T.tolist()):
            column = self.programme.columns[number]
            self.programme.columns[number] = column._replace(lower=lower, upper=upper)
        for offer, counts in contents:
            self._content(offer, counts)

    def _link(self, offer, row):
        number, opened = self.programme.row(-math.inf, 0), self.rows.opened[offer]
        whole = self.programme.rows[self.rows.cover[row]][0]
        column = self.programme.columns[opened]
        self.programme.columns[opened] = column._replace(entries=(*column.entries, (number, -whole)))
        return number

    def _content(self, offer, counts):
        day, model, room = self.day, self.day.offers[offer], self.day.rooms[offer]
        lots = day.contents_of(offer)
        parts = [row for row in np.flatnonzero(counts) if day.is_divisible(row)]
        whole = [row for row in np.flatnonzero(counts) if not day.is_divisible(row)]
        mass = sum(counts[row] * int(lots.mass[row]) for row in whole) / GRAMS
        bulk = sum(counts[row] * int(lots.volume[row]) for row in whole)
        gross, opened = self.rows.gross[offer], self.links
        entries = [(self.rows.cartons[offer], 1)]
        entries += [(self.rows.cover[row], counts[row]) for row in whole]
        entries += [(opened[offer, row], counts[row]) for row in whole if (offer, row) in opened]
        if gross is not None:
            entries.append((gross, float(model.tare) + float(model.gross_per_kilogram) * mass))
        most = min([day.most_cartons[offer], *(int(lots.count[row]) // counts[row] for row in whole)])
        limits = self._limits(entries, parts, mass, bulk, room)
        kilograms = {}
        for row in parts:
            least, top = self.programme.row(0, math.inf), self.programme.row(-math.inf, 0)
            entries += [
                (least, -lots.mass[row] / GRAMS),
                (top, -min(day.class_mass(row), room.capacity) / GRAMS),
            ]
            own = [(self.rows.cover[row], 1), (least, 1), (top, 1)]
            own += [
                (limit, 1 if rate is None else lots.volume[row] / lots.mass[row] * rate)
                for limit, rate in limits
            ]
            if gross is not None:
                own.append((gross, float(model.gross_per_kilogram)))
            if (offer, row) in opened:
                own.append((opened[offer, row], 1))
            kilograms[int(row)] = self.programme.column(
                model.kilogram_cost, *own, upper=day.class_mass(row) / GRAMS
            )
        cost = float(model.kilogram_cost) * mass
        self.often.append(self.programme.column(cost, *entries, upper=most, whole=True))
        self.kilograms.append(kilograms)

    def _limits(self, entries, parts, mass, bulk, room):
        """Rows that keep divisible lots within capacity, volume and the least that keeps hard."""
        if not parts:
            return []
        found = [(self.programme.row(-math.inf, 0), None)]
        entries.append((found[0][0], mass - room.capacity / GRAMS))
        if room.volume:
            # In litres, so that all rows are of one size.
            found.append((self.programme.row(-math.inf, 0), GRAMS / 10**6))
            entries.append((found[-1][0], (bulk - room.volume) / 10**6))
        if room.least > mass * GRAMS:
            found.append((self.programme.row(0, math.inf), None))
            entries.append((found[-1][0], mass - room.least / GRAMS))
        return found

    def read(self, values):
        """Cartons of a solution, with the parts of divisible lots shared out evenly among cartons alike."""
        cartons = []
        for (offer, counts), column, kilograms in zip(self.contents, self.often, self.kilograms, strict=True):
            number = round(values[column])
            for each in range(number):
                extra = [0] * len(counts)
                for row, amount in kilograms.items():
                    total = round(values[amount] * GRAMS) - number * int(self.day.contents.mass[row])
                    extra[row] = max(0, (total + each) // number)
                cartons.append(Filled(offer, counts, tuple(extra)))
        return tuple(cartons)
