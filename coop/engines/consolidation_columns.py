"""The relaxation of a day over all contents of cartons, found as they are wanted, and the bound it proves."""

import math
from contextlib import contextmanager
from typing import NamedTuple

import numpy as np

from coop.engines.carton_patterns import best_pattern, patterns_above
from coop.engines.consolidation_bill import GRAMS
from coop.engines.consolidation_rows import rows_of
from coop.engines.linear_programme import SOLVED, dual_bound, solver

NODES = 100_000
SMALL = 1e-6
"""Share of the cost below which a better carton is not worth another round."""
NEGLIGIBLE = 1e-9
MOST_CUTS = 4
"""Sets of rewards besides the newest that an outline is held by."""


class Filled(NamedTuple):
    """One carton of an offer: lots of each class (least parts of the divisible), and extra g of these."""

    offer: int
    counts: tuple[int, ...]
    extra: tuple[int, ...]


class Prices(NamedTuple):
    """Of an offer: reward of each class in one of its cartons, and what a carton itself is worth."""

    rewards: np.ndarray
    own: np.ndarray


class Relaxation:
    """Linear programme over the cartons found so far; to converge it finds better ones until none is."""

    def __init__(self, day, *, clock, until):
        self.day, self.clock, self.until = day, clock, until
        self.rows = rows_of(day)
        self.amount_rows, self.links = {}, {}
        self.cartons, self.column_of, self.place = [], [], {}
        self.cuts = []
        self.contents = [day.contents_of(offer) for offer in range(len(day.offers))]
        programme = self.rows.programme
        self.highs = solver(programme, whole=False, presolve="off", simplex_strategy=1)
        self.cost = np.array([column.cost for column in programme.columns])
        self.columns = np.array([(column.lower, column.upper) for column in programme.columns]).T
        self.sides = np.array(programme.rows).T
        self.matrix = np.zeros((len(programme.rows), len(programme.columns)))
        for number, column in enumerate(programme.columns):
            for row, value in column.entries:
                self.matrix[row, number] = value
        self.covered = np.array(self.rows.cover)
        empty = (0,) * len(day.classes)
        for offer in range(len(day.offers)):
            self.add(Filled(offer, empty, empty))

    def add(self, filled):
        """Takes a carton in, unless it is known; returns its place."""
        if filled not in self.place:
            self.place[filled] = len(self.cartons)
            self.cartons.append(filled)
            self.column_of.append(self.highs.getNumCol())
            cost, entries = self._column(filled)
            index, value = np.array([*entries], np.int32), np.array([*entries.values()], float)
            self.highs.addCol(cost, 0.0, math.inf, len(index), index, value)
        return self.place[filled]

    def values(self):
        """Of the last solution: amounts of the cartons found so far, by place, and of all other columns."""
        values = np.array(self.highs.getSolution().col_value)
        return values[self.column_of], values[: len(self.cost)]

    def run(self):
        """Solves over the cartons found so far; prices of the rows, or None where nothing obeys them."""
        self.highs.run()
        if self.highs.getModelStatus() != SOLVED:
            return None
        return np.array(self.highs.getSolution().row_dual)

    def converge(self):
        """Finds cartons until no better exists: the bound, and the prices that prove it.

        Where time runs out both are the best so far; the prices are None where nothing obeys the rows.
        """
        best, proof = -math.inf, None
        while (duals := self.run()) is not None:
            prices = self.prices(duals)
            found, worth, most = self.price(prices, self.contents)
            bound = self._bound(duals) - worth
            if bound > best:
                best, proof = bound, (prices, most)
            reached = self.highs.getObjectiveValue()
            if not found or reached - best <= SMALL * abs(reached) or self.is_late():
                break
            for filled in found:
                self.add(filled)
        if proof is None:
            return best, None
        self.cuts = [*self.cuts[-MOST_CUTS:], proof]
        return best, proof[0]

    def is_late(self):
        """Whether time is up."""
        return self.clock() > self.until

    def prices(self, duals):
        """Rewards by offer and class."""
        day, rows = self.day, self.rows
        gross = np.array([0.0 if row is None else duals[row] for row in rows.gross])
        rates = np.array(
            [(offer.gross_per_kilogram, offer.kilogram_cost, offer.tare) for offer in day.offers], float
        )
        kilograms = day.contents.mass / GRAMS
        cover = np.tile(duals[self.covered], (len(day.offers), 1))
        for key, numbers in self.amount_rows.items():
            cover[key] += sum(duals[number] for number in numbers)
        unit = np.where(day.contents.extra > 0, kilograms, 1.0)
        by_mass = gross * rates[:, 0] - rates[:, 1]
        rewards = cover * unit + by_mass[:, None] * kilograms
        return Prices(rewards, duals[list(rows.cartons)] + gross * rates[:, 2])

    def price(self, prices, contents):
        """Cartons that would lower the cost, by how much all together at most, and the most of each offer."""
        found, worth, highest = [], 0.0, []
        for offer, most in enumerate(self.day.most_cartons):
            own = float(prices.own[offer])
            pattern, upper = best_pattern(
                contents[offer],
                room=self.day.rooms[offer],
                rewards=prices.rewards[offer],
                threshold=-own + 1e-7 * (1 + abs(own)),
                node_limit=NODES,
            )
            worth += most * max(0.0, upper + own)
            highest.append(upper)
            if pattern is not None:
                found.append(Filled(offer, tuple(pattern.counts.tolist()), tuple(pattern.extra.tolist())))
        return found, worth, highest

    def contents_within(self, prices, *, slack, limit):
        """Contents of cartons that a plan no dearer than the bound plus slack may hold.

        Also whether these are all: it stops where they are more than the limit.
        """
        found, are_all = [], True
        for offer, lots in enumerate(self.contents):
            own = float(prices.own[offer])
            if not self.columns[1, self.rows.number[offer]]:
                continue
            rows, is_whole = patterns_above(
                lots,
                room=self.day.rooms[offer],
                rewards=prices.rewards[offer],
                threshold=-own - slack - 1e-6 * (1 + abs(own)),
                limit=limit,
                node_limit=10 * NODES,
            )
            are_all = are_all and is_whole
            found += [(offer, tuple(row)) for row in rows.tolist()]
            if not are_all or len(found) > limit:
                return found, False
        return found, True

    def link(self):
        """Lets each class travel with an offer only as far as that is opened; how many rows that took."""
        amounts, others = self.values()
        broken = []
        for (offer, row), amount in self.carried(amounts).items():
            opened = self.rows.opened[offer]
            if opened is not None and (offer, row) not in self.links:
                whole = self.sides[0, self.covered[row]]
                over = amount / whole - others[opened]
                if over > 1e-4:
                    broken.append((-over, offer, row, whole))
        for _, offer, row, whole in sorted(broken):
            self.links[offer, row] = self.amount_row(offer, row, (self.rows.opened[offer], -whole))
        return len(broken)

    def carried(self, amounts):
        """How much of each class travels with each offer, where any does."""
        carried = {}
        for place in np.flatnonzero(amounts > NEGLIGIBLE):
            filled = self.cartons[place]
            for row, amount in self.amounts(filled):
                key = (filled.offer, row)
                carried[key] = carried.get(key, 0.0) + amount * amounts[place]
        return carried

    def amount_row(self, offer, row, *entries, lower=-math.inf, upper=0.0):
        """Adds a row over how much of a class travels with an offer, and other columns; its number."""
        number = self.highs.getNumRow()
        held = {column: float(value) for column, value in entries}
        line = np.zeros(len(self.cost))
        line[list(held)] = list(held.values())
        self.matrix = np.vstack([self.matrix, line])
        self.sides = np.hstack([self.sides, [[lower], [upper]]])
        for place, filled in zip(self.column_of, self.cartons, strict=True):
            if filled.offer == offer and filled.counts[row]:
                held[place] = dict(self.amounts(filled))[row]
        index, value = np.array([*held], np.int32), np.array([*held.values()])
        self.highs.addRow(lower, upper, len(index), index, value)
        self.amount_rows.setdefault((offer, row), []).append(number)
        return number

    def amounts(self, filled):
        """(class, lots of it or, of a divisible one, kg) of all that a carton holds."""
        contents = self.day.contents
        for row in np.flatnonzero(filled.counts).tolist():
            count, extra = filled.counts[row], filled.extra[row]
            if self.day.is_divisible(row):
                yield row, (count * int(contents.mass[row]) + extra) / GRAMS
            else:
                yield row, count

    def bound_column(self, column, lower, upper):
        """Sets the bounds of a column that is no carton."""
        self.columns[:, column] = lower, upper
        self.highs.changeColBounds(column, float(lower), float(upper))

    @contextmanager
    def held(self, values, but=()):
        """What must be whole is, for a while, as in these values, some columns excepted."""
        whole = [column for columns in self.rows.choices for column in columns if column not in but]
        bounds = self.columns[:, whole].copy()
        for column in whole:
            self.bound_column(column, round(values[column]), round(values[column]))
        try:
            yield
        finally:
            for column, (lower, upper) in zip(whole, bounds.T, strict=True):
                self.bound_column(column, lower, upper)

    def _bound(self, duals):
        return dual_bound(duals, matrix=self.matrix, cost=self.cost, columns=self.columns, rows=self.sides)

    def _column(self, filled):
        offer, model = filled.offer, self.day.offers[filled.offer]
        mass = self.day.contents.mass
        kilograms = (
            sum(n * int(g) for n, g in zip(filled.counts, mass, strict=True)) + sum(filled.extra)
        ) / GRAMS
        entries = {self.rows.cartons[offer]: 1.0}
        if self.rows.gross[offer] is not None:
            entries[self.rows.gross[offer]] = float(model.tare) + float(model.gross_per_kilogram) * kilograms
        for row, amount in self.amounts(filled):
            entries[self.rows.cover[row]] = amount
            for number in self.amount_rows.get((offer, row), ()):
                entries[number] = amount
        return float(model.kilogram_cost) * kilograms, entries
