"""A plan made better by annealing: lots move between cartons at random, less and less against the cost."""

from itertools import pairwise

import numpy as np

from coop.engines.consolidation_anneal_cooling import anneal
from coop.engines.consolidation_anneal_kernel import (
    CARTONS,
    OFFER,
    STAYS,
    Fares,
    State,
    fare_of,
    missing,
    put,
)
from coop.engines.consolidation_bill import GRAMS
from coop.engines.consolidation_columns import Filled

MOVES_A_LOT, MOST_MOVES, SLICES = 12_500, 3_000_000, 10
ROWS = 8
COLD = 0.001
"""Temperature at last, of what a carton costs: a thousandth of it is no longer worth a worse plan."""
LEFT, DEARTH = 2.5, 1.2
"""Times what a gram costs on average: the most that leaving one counts as while moving, and a missing one."""


class Annealing:
    """The lots and offers of a day as the kernel takes them; `price` is what a gram costs on average.

    Source: Kirkpatrick, Gelatt & Vecchi 1983, Optimization by simulated annealing, Science 220:671 (from
    memory); what a move is, and all constants, are ours, tried on invented days.
    """

    def __init__(self, day, *, price):
        self.day, self.price = day, price
        self.lots = [row for row, group in enumerate(day.classes) for _ in group]
        self.carton = price * float(np.median([room.capacity for room in day.rooms]))

    def better(self, cartons, *, rng, hot, is_late):
        """The least costly plan seen on the way from a plan; `hot` is the first temperature, of a carton."""
        state = self._state(cartons, self._most(len(cartons)))
        return self._cooled(state, self._fares(), rng, hot, is_late)

    def framed(self, frame, cartons, *, strict, rng, hot, is_late):
        """The same in the cartons of a frame and no others, that a plan gives some of.

        strict: share of the next step that a consignment pays from its border on; each kg beyond costs as if
        it stayed, so that there is a slope back.
        """
        empty, waiting = (0,) * len(self.day.classes), [*cartons]
        own = []
        for offer in frame.offers:
            found = next((carton for carton in waiting if carton.offer == offer), None)
            own.append(found or Filled(offer, empty, empty))
            if found:
                waiting.remove(found)
        fares = self._fares(frame.borders, strict)
        return self._cooled(self._state(own, len(own)), fares, rng, hot, is_late, is_framed=True)

    def _cooled(self, state, fares, rng, hot, is_late, is_framed=False):
        """The least costly plan seen while all cools, slice by slice, with a look at the clock between."""
        for offer, (count, grams) in enumerate(state.offers[:, CARTONS:].tolist()):
            state.paid[offer] = fare_of(fares, offer, count, grams)
        best = state.amount.copy(), state.cartons[:, OFFER].copy()
        moves = np.zeros((len(self.lots) + ROWS, 4), np.int64)
        hidden, lacks = float(state.lots[:, STAYS] @ state.worth[:, 1]), self._lacking(state)
        sums = np.array([hidden, lacks, 0.0, np.inf if lacks else hidden])
        luck = rng.integers(1, 2**63, 1).astype(np.uint64)
        steps = min(MOST_MOVES, MOVES_A_LOT * len(self.lots)) // SLICES
        for warm, cool in pairwise(self.carton * np.geomspace(hot, COLD, SLICES + 1)):
            if is_late():
                break
            heat = np.array([steps, warm, cool, DEARTH * self.price, is_framed], float)
            anneal(luck, state, fares, best, moves, sums, heat)
        return self._filled(*best)

    def _most(self, used):
        """Cartons that a plan may come to hold, one that is empty included."""
        return max(min(sum(self.day.most_cartons), sum(self.day.places), 2 * len(self.lots)), used) + 1

    def _worth(self):
        """What leaving a gram of each lot costs, at most so much, and what the true cost has above that."""
        worth = np.array([float(each) / GRAMS for each in self.day.worth])[self.lots]
        return np.stack([np.minimum(worth, LEFT * self.price), np.maximum(worth - LEFT * self.price, 0)], 1)

    def _lot_table(self):
        day, lots, contents = self.day, np.array(self.lots), self.day.contents
        whole = contents.mass + contents.extra
        nowhere = np.full(len(day.classes), -1)
        own = (whole, contents.volume, contents.mass, contents.extra > 0, contents.kind, contents.clashes)
        return np.ascontiguousarray(np.stack([*own, nowhere, whole], 1)[lots])

    def _offer_table(self):
        day, offers = self.day, self.day.offers
        rooms = [(room.capacity, room.volume, room.least) for room in day.rooms]
        rest = zip(day.most_cartons, day.departure, (offer.places for offer in offers), strict=True)
        return np.array([(*room, *own, 0, 0) for room, own in zip(rooms, rest, strict=True)])

    def _fares(self, borders=None, strict=0.0):
        offers = self.day.offers
        borders = [None] * len(offers) if borders is None else borders
        steep = LEFT * self.price * GRAMS
        steps = [_steps(o, border, strict, steep) for o, border in zip(offers, borders, strict=True)]
        return Fares(
            line=np.array([_line(offer) for offer in offers]),
            steps=_table(steps),
            floors=_table([offer.pieces.floors for offer in offers]),
            kilograms=_table([offer.pieces.whole_kilograms for offer in offers]),
        )

    def _state(self, plan, many):
        """So many cartons, the first of them as in a plan."""
        number = len(self.lots)
        state = State(
            lots=self._lot_table(),
            cartons=np.zeros((many, 4), np.int64),
            offers=self._offer_table(),
            places=np.array([(places, 0) for places in self.day.places]),
            amount=np.zeros((many, number), np.int64),
            inside=np.zeros((many, number), np.int64),
            carries=np.ascontiguousarray(self.day.carries[:, self.lots]),
            worth=self._worth(),
            paid=np.zeros(len(self.day.offers)),
        )
        for place, carton in enumerate(plan):
            state.cartons[place, OFFER] = carton.offer
            for lot, grams in self._parts(carton, state.lots[:, STAYS]):
                put(*state[:6], lot, -1, -grams)
                put(*state[:6], lot, place, grams)
        return state

    def _parts(self, carton, left):
        """(lot, g) of all that a carton holds; of lots alike the first that is left."""
        lots = np.array(self.lots)
        for row in np.flatnonzero(carton.counts).tolist():
            own = np.flatnonzero((lots == row) & (left > 0)).tolist()
            if self.day.is_divisible(row):
                yield own[0], int(self.day.contents.mass[row]) * carton.counts[row] + carton.extra[row]
            else:
                yield from ((lot, self.day.class_mass(row)) for lot in own[: carton.counts[row]])

    def _lacking(self, state):
        return float(
            sum(missing(state.cartons, state.offers, carton) for carton in range(len(state.cartons)))
        )

    def _filled(self, amount, offer):
        cartons = []
        for place in np.flatnonzero(amount.any(axis=1)).tolist():
            counts, extra = [0] * len(self.day.classes), [0] * len(self.day.classes)
            for lot in np.flatnonzero(amount[place]).tolist():
                row = self.lots[lot]
                counts[row] += 1
                if self.day.is_divisible(row):
                    extra[row] += int(amount[place, lot] - self.day.contents.mass[row])
            cartons.append(Filled(int(offer[place]), tuple(counts), tuple(extra)))
        return tuple(cartons)


def _line(offer):
    """Consignment, carton, gram, tare kg, gross kg of a gram."""
    per_carton = offer.carton_cost + offer.pieces.per_carton
    own = (offer.consignment_cost, per_carton, offer.kilogram_cost / GRAMS)
    return [float(each) for each in (*own, offer.tare, offer.gross_per_kilogram / GRAMS)]


def _steps(offer, border, strict, steep):
    """Until kg, fixed, a kg, the last open above; from a border on a share of the jump there, steep a kg."""
    pieces = offer.pieces.pieces
    kept = [piece[1:] for piece in pieces if border is None or piece.until_mass <= border]
    _, fixed, slope = kept[-1]
    if border is None or len(kept) == len(pieces):
        return [*kept[:-1], (np.inf, fixed, slope)]
    _, _, above, rate = pieces[len(kept)]
    before, after = (float(a + b * border) for a, b in ((fixed, slope), (above, rate)))
    return [*kept, (np.inf, before + strict * (after - before) - steep * float(border), steep)]


def _table(rows):
    """(o, k, 3) floats, short rows filled up: a floor of nothing, a step that is never reached."""
    table = np.zeros((len(rows), max(map(len, rows), default=0), 3))
    for number, row in enumerate(rows):
        for place, values in enumerate(row):
            table[number, place] = [float(value) for value in values]
    return table
