"""The rows that every plan of a day obeys: each lot once, places, and each offer's bill."""

from fractions import Fraction
from math import ceil, gcd
from typing import NamedTuple

import numpy as np

from coop.engines.consolidation_bill import GRAMS
from coop.engines.linear_programme import Programme

GROUPS = (
    lambda offer: None,
    lambda offer: (offer.capacity, offer.volume, offer.sides),
    lambda offer: offer.tariff,
    lambda offer: offer.departure,
)
"""What cartons are counted by, since their numbers must be whole."""


class Step(NamedTuple):
    """The column that chooses a step of a tariff, and the gross mass kg at which the step ends.

    row: of what is shipped in this step, no more than `end` kg, and the column's entry there is −end.
    """

    column: int
    until: Fraction
    row: int
    end: Fraction


class Rows(NamedTuple):
    """Numbers of rows and columns: cover of each class; cartons, gross, opened of each offer (None: none).

    left: the columns of what is left of each class; number: those that count the cartons of each offer;
    choices: all columns that must be whole, cartons in all, of each design, each carrier and each departure,
    and then those of single offers; steps: of each offer that has several.
    """

    programme: Programme
    cover: tuple[int, ...]
    left: tuple[int, ...]
    cartons: tuple[int, ...]
    gross: tuple[int | None, ...]
    opened: tuple[int | None, ...]
    number: tuple[int, ...]
    choices: tuple[tuple[int, ...], ...]
    steps: tuple[tuple[Step, ...], ...]


def rows_of(day):
    """The programme of a day before any carton is in it.

    day   Day   –

    Returns Rows; cover counts lots, of divisible ones kg, and gross is in kg.
    Raises OverflowError for nothing that Day lets through.
    Source: Balas 1985, Disjunctive programming (from memory), for steps: a binary a piece, borders from the
        piece itself. A minimum is what exceeds it: two lower bounds.
    """
    programme = Programme()
    cover, left = [], []
    for row, count in enumerate(day.contents.count):
        whole = not day.is_divisible(row)
        amount = int(count) if whole else day.class_mass(row) / GRAMS
        cover.append(programme.row(amount, amount))
        cost = day.left[row] / (1 if whole else amount)
        left.append(programme.column(cost, (cover[-1], 1), upper=amount))
    places = [programme.row(0, most) for most in day.places]
    groups = [_totals(programme, day, group) for group in GROUPS]
    bills = [
        _Bill(programme, day, offer, places[day.departure[offer]], [total[offer] for total, _ in groups])
        for offer in range(len(day.offers))
    ]
    totals = tuple(columns for _, columns in groups)
    single = tuple(
        n for n, column in enumerate(programme.columns) if column.is_whole and n not in sum(totals, ())
    )
    return Rows(
        programme,
        tuple(cover),
        tuple(left),
        tuple(bill.cartons for bill in bills),
        tuple(bill.gross for bill in bills),
        tuple(bill.opened for bill in bills),
        tuple(bill.number for bill in bills),
        (*totals, single),
        tuple(tuple(bill.steps) for bill in bills),
    )


def _totals(programme, day, group):
    """For each group of offers a column that counts their cartons; the row of each offer, and the columns."""
    keys = [group(offer) for offer in day.offers]
    rows = {key: programme.row(0, 0) for key in dict.fromkeys(keys)}
    most = {key: sum(n for n, own in zip(day.most_cartons, keys, strict=True) if own == key) for key in rows}
    columns = tuple(programme.column(0, (row, -1), upper=most[key], whole=True) for key, row in rows.items())
    return [rows[key] for key in keys], columns


class _Bill:
    """The rows and columns of one offer: cartons, gross mass, whether it is used, and what it costs."""

    def __init__(self, programme, day, offer, places, totals):
        self.programme, self.offer, self.pieces = programme, day.offers[offer], day.offers[offer].pieces
        self.most, self.room = day.most_cartons[offer], day.rooms[offer]
        self.span = self._span(day, offer)
        self.kept = self._kept()
        self.cartons, self.gross, self.opened = programme.row(0, 0), None, None
        # Entries of the columns of cartons, of being used and of each piece's mass, filled rule by rule.
        self.count = [(self.cartons, -1), (places, self.offer.places), *((row, 1) for row in totals)]
        self.steps = []
        self.used, self.weight = [], [[] for _ in self.kept]
        self.used_cost = self.offer.consignment_cost
        self._floors()
        self._whole_kilograms()
        self._columns()

    def _span(self, day, offer):
        """Least and most gross mass kg of a consignment."""
        masses = day.contents.mass[day.carries[offer]]
        least = Fraction(max(int(masses.min()), self.room.least), GRAMS)
        each = self.offer.tare + self.offer.gross_per_kilogram * Fraction(self.room.capacity, GRAMS)
        return self.offer.tare + self.offer.gross_per_kilogram * least, each * self.most

    def _kept(self):
        """Pieces that a consignment can fall into, with their borders; below a step means a grain below."""
        least, most = self.span
        grain = _grain(self.offer.tare, self.offer.gross_per_kilogram / GRAMS)
        return [
            (max(piece.from_mass, least), min(piece.until_mass - grain, most), piece)
            for piece in self.pieces.pieces
            if piece.from_mass <= most and least < piece.until_mass
        ]

    def _floors(self):
        for least, per_carton, per_kilogram in self.pieces.floors:
            row = self._excess(least, per_carton * self.most + per_kilogram * self.span[1])
            self.count.append((row, -per_carton))
            if per_kilogram:
                self._weigh(row, -per_kilogram)

    def _whole_kilograms(self):
        for least, rate, by_volume in self.pieces.whole_kilograms:
            begun, by_size = self.programme.row(0, np.inf), self.programme.row(0, np.inf)
            self._weigh(begun, -1)
            self.count.append((by_size, -by_volume))
            most = ceil(max(self.span[1], by_volume * self.most))
            entries = [(begun, 1), (by_size, 1)]
            if least:
                entries.append((self._excess(least, rate * most), -rate))
            self.programme.column(0 if least else rate, *entries, upper=most, whole=True)

    def _excess(self, least, most):
        """A row for what a charge exceeds its minimum by; the minimum itself is paid for being used."""
        row = self.programme.row(0, np.inf)
        self.used_cost += least
        self.used.append((row, least))
        self.programme.column(1, (row, 1), upper=most)
        return row

    def _weigh(self, row, rate):
        for entries in self.weight:
            entries.append((row, rate))

    def _columns(self):
        several = len(self.kept) > 1
        if several or any(self.weight) or any(piece.per_kilogram for _, _, piece in self.kept):
            self.gross = self.programme.row(0, 0)
            self._weigh(self.gross, -1)
        only = self.kept[0][2]
        if several or self.used_cost or only.fixed:
            self.opened = self._open(several, only)
        elif self.gross is not None:
            self.programme.column(only.per_kilogram, *self.weight[0], upper=self.span[1])
        cost = self.offer.carton_cost + self.pieces.per_carton
        self.number = self.programme.column(cost, *self.count, upper=self.most, whole=True)

    def _open(self, several, only):
        """The binary of being used, with no carton unless it is and one at least if it is."""
        most, least = self.programme.row(-np.inf, 0), self.programme.row(0, np.inf)
        self.count += [(most, 1), (least, 1)]
        used = [*self.used, (most, -self.most), (least, -1)]
        if not several:
            if self.gross is not None:
                self._piece(used, *self.kept[0])
            return self.programme.column(self.used_cost + only.fixed, *used, upper=1, whole=True)
        choice = self.programme.row(0, 0)
        for place, (start, end, piece) in enumerate(self.kept):
            chosen = [(choice, 1)]
            self._piece(chosen, start, end, piece, self.weight[place])
            column = self.programme.column(piece.fixed, *chosen, upper=1, whole=True)
            self.steps.append(Step(column, piece.until_mass, chosen[-1][0], end))
        return self.programme.column(self.used_cost, *used, (choice, -1), upper=1, whole=True)

    def _piece(self, chosen, start, end, piece, weight=None):
        """The mass in one piece, within its borders if that piece is chosen and 0 if not."""
        weight = self.weight[0] if weight is None else weight
        lower, upper = self.programme.row(0, np.inf), self.programme.row(-np.inf, 0)
        chosen += [(lower, -start), (upper, -end)]
        self.programme.column(piece.per_kilogram, *weight, (lower, 1), (upper, 1), upper=end)


def _grain(one, other):
    """The greatest mass of which both are multiples."""
    under = one.denominator * other.denominator
    return Fraction(gcd(one.numerator * other.denominator, other.numerator * one.denominator), under)
