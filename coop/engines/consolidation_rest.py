"""What a plan has not taken yet, and where it still fits: lot after lot goes where it costs least."""

from typing import NamedTuple

import numpy as np

from coop.engines.consolidation_bill import GRAMS
from coop.engines.consolidation_columns import Filled


class Rest:
    """What is left of each class: lots, or of a divisible lot g."""

    def __init__(self, day, filled=()):
        self.day = day
        self.mass, self.extra = day.contents.mass, day.contents.extra
        self.divisible = self.extra > 0
        self.lots = np.where(self.divisible, 0, day.contents.count)
        self.grams = np.where(self.divisible, self.mass + self.extra, 0)
        for carton in filled:
            self.take(carton)

    def holds(self, filled):
        """Whether all of a carton is left."""
        lots, grams = self._of(filled)
        return bool((lots <= self.lots).all() and (grams <= self.grams).all())

    def take(self, filled, times=1):
        """Takes what a carton holds out of the rest, or with times −1 puts it back."""
        lots, grams = self._of(filled)
        self.lots = self.lots - times * lots
        self.grams = self.grams - times * grams

    def contents(self, lots):
        """What an offer may carry of the rest."""
        there = np.where(self.divisible, self.grams >= self.mass, self.lots > 0) & (lots.count > 0)
        count = np.where(there, np.where(self.divisible, 1, self.lots), 0)
        return lots._replace(count=count, extra=np.where(self.divisible & there, self.grams - self.mass, 0))

    def rows(self):
        """Classes of which something is left, the heaviest first."""
        rows = np.flatnonzero((self.lots > 0) | (self.grams > 0))
        return sorted(rows.tolist(), key=lambda row: (-int(self.mass[row] + self.extra[row]), row))

    def _of(self, filled):
        counts, extra = np.array(filled.counts), np.array(filled.extra)
        return np.where(self.divisible, 0, counts), np.where(self.divisible, counts * self.mass + extra, 0)


class Way(NamedTuple):
    """One way for some of a class: into a carton by number, −1 for a new one of the offer, at a cost.

    per_gram and room_left come first, since the least of them is best.
    """

    per_gram: float
    room_left: int
    carton: int
    offer: int
    grams: int
    cost: int


class Draft:
    """A plan that lots can still be added to."""

    def __init__(self, day, ledger, filled=()):
        self.day, self.ledger = day, ledger
        self.filled = [*filled]
        self.rest = Rest(day, self.filled)
        self.contents = [day.contents_of(offer) for offer in range(len(day.offers))]

    @property
    def cost(self):
        """Minor units, what is left behind included."""
        return self.ledger.total(self.filled, self.rest)

    def add_what_pays(self, *, may_start_low=False):
        """Puts what is left where that costs least and less than leaving it, until nothing pays any more."""
        has_changed = True
        while has_changed:
            has_changed = any([self._add_row(row, may_start_low) for row in self.rest.rows()])

    def _add_row(self, row, may_start_low):
        added = False
        while self.rest.lots[row] or self.rest.grams[row]:
            way = self.cheapest(row, may_start_low=may_start_low)
            if way is None or way.cost >= self.worth(row, way.grams):
                break
            self._go(row, way)
            added = True
        return added

    def drop_low(self):
        """Takes out the cartons that hold too little to stay hard."""
        low = [c for c in self.filled if self.ledger.grams(c) < max(self.day.rooms[c.offer].least, 1)]
        for carton in low:
            self.filled.remove(carton)
            self.rest.take(carton, -1)

    def without_clashes(self):
        """The same plan where all kinds may lie beside each other."""
        free = self.day.contents._replace(clashes=np.zeros_like(self.day.contents.clashes))
        return Draft(self.day._replace(contents=free), self.ledger, self.filled)

    def cheapest(self, row, *, may_start_low=False):
        """The way for one lot of a class, or for as much of a divisible one as fits, that costs least a g."""
        return min(self.ways(row, may_start_low=may_start_low), default=None)

    def ways(self, row, *, may_start_low=False):
        """All ways, cost worked out exactly."""
        loads = self._loads()
        for number, carton in enumerate(self.filled):
            grams = self.fitting(row, carton)
            if grams:
                yield self._way(number, carton.offer, grams, loads, 0, self.room(carton) - grams)
        for offer in np.flatnonzero(self.day.carries[:, row]).tolist():
            if not self.places_left(offer, loads):
                continue
            empty = Filled(offer, (0,) * len(self.day.classes), (0,) * len(self.day.classes))
            grams = self.fitting(row, empty)
            if grams and (may_start_low or grams >= self.day.rooms[offer].least):
                yield self._way(-1, offer, grams, loads, 1, self.day.rooms[offer].capacity - grams)

    def fitting(self, row, carton):
        """g of a class that still fit a carton: of a lot all or nothing."""
        lots, room = self.contents[carton.offer], self.day.rooms[carton.offer]
        if not lots.count[row] or self._clashes(row, carton, lots):
            return 0
        space = self.room(carton)
        bulk = room.volume - sum(self.bulks(carton, lots))
        if not self.day.is_divisible(row):
            fits = lots.mass[row] <= space and lots.volume[row] <= bulk
            return int(lots.mass[row]) if fits else 0
        wanted = min(int(self.rest.grams[row]), space)
        if lots.volume[row]:
            wanted = min(wanted, int(bulk * int(lots.mass[row]) // int(lots.volume[row])))
        least = int(lots.mass[row])
        over = int(self.rest.grams[row]) - wanted
        if 0 < over < least <= wanted + over - least:
            # A smaller part leaves enough for another one.
            wanted -= least - over
        return wanted if carton.counts[row] or wanted >= least else 0

    def places_left(self, offer, loads=None):
        """Whether one more carton of an offer finds place."""
        loads, departure = loads or self._loads(), self.day.departure[offer]
        if loads.get(offer, (0, 0))[0] >= self.day.most_cartons[offer]:
            return False
        taken = sum(
            cartons * self.day.offers[other].places
            for other, (cartons, _) in loads.items()
            if self.day.departure[other] == departure
        )
        return taken + self.day.offers[offer].places <= self.day.places[departure]

    def _way(self, number, offer, grams, loads, more, room_left):
        cartons, mass = loads.get(offer, (0, 0))
        before = self.ledger.consignment(offer, cartons, mass)
        cost = self.ledger.consignment(offer, cartons + more, mass + grams) - before
        return Way(cost / grams, room_left, number, offer, grams, cost)

    def open(self, carton):
        """Takes a carton in with what it holds."""
        self.filled.append(carton)
        self.rest.take(carton)

    def _go(self, row, way):
        if way.carton < 0:
            empty = (0,) * len(self.day.classes)
            self.filled.append(Filled(way.offer, empty, empty))
        carton = self.filled[way.carton]
        self.rest.take(carton, -1)
        counts, extra = [*carton.counts], [*carton.extra]
        if self.day.is_divisible(row):
            extra[row] += way.grams - (0 if counts[row] else int(self.day.contents.mass[row]))
            counts[row] = 1
        else:
            counts[row] += 1
        self.filled[way.carton] = Filled(carton.offer, tuple(counts), tuple(extra))
        self.rest.take(self.filled[way.carton])

    def worth(self, row, grams):
        """Minor units that leaving so much behind costs."""
        if not self.day.is_divisible(row):
            return self.day.left[row]
        return self.day.worth[row] * grams / GRAMS

    def _loads(self):
        loads = {}
        for carton in self.filled:
            cartons, grams = loads.get(carton.offer, (0, 0))
            loads[carton.offer] = cartons + 1, grams + self.ledger.grams(carton)
        return loads

    def room(self, carton):
        """g that a carton could still take."""
        return self.day.rooms[carton.offer].capacity - self.ledger.grams(carton)

    def bulks(self, carton, lots):
        """mm³ of each class in a carton."""
        for row in np.flatnonzero(carton.counts).tolist():
            mass = carton.counts[row] * int(lots.mass[row]) + carton.extra[row]
            yield -(-mass * int(lots.volume[row]) // int(lots.mass[row]))

    def _clashes(self, row, carton, lots):
        inside = np.flatnonzero(carton.counts).tolist()
        return any(
            int(lots.clashes[row]) & int(lots.kind[other]) for other in inside if other != row
        ) or bool(
            carton.counts[row] and lots.clashes[row] & lots.kind[row] and not self.day.is_divisible(row)
        )
