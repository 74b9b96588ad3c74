"""A plan from the relaxation: first what is opened is settled, then one carton after the other."""

import math

import numpy as np

from coop.engines.consolidation_columns import Filled
from coop.engines.consolidation_rest import Rest

ROUNDS = 6
NEARLY, CLEARLY = 0.999, 1e-3


class Dive:
    """One way down from the relaxation as it is bounded now; `cartons` are what it ends with."""

    def __init__(self, relaxation):
        self.relaxation = relaxation
        self.rest, self.settled = Rest(relaxation.day), {}
        self.held, self.barred = {}, set()
        self._settle_choices()
        self._settle_cartons()
        self._let_go()

    @property
    def cartons(self):
        places = [place for place, times in self.settled.items() for _ in range(times)]
        return tuple(self.relaxation.cartons[place] for place in places)

    def _settle_choices(self):
        """Opens, one after the other, what the relaxation opens most, until nothing is half open."""
        while not self.relaxation.is_late():
            if self._ask() is None:
                return
            values = self.relaxation.values()[1]
            singles = np.array(self.relaxation.rows.choices[-1], int)
            part = values[singles] - np.floor(values[singles] + CLEARLY)
            part[part < CLEARLY] = 0.0
            if not part.any():
                return
            column = int(singles[np.argmax(part)])
            self._open(column, math.ceil(values[column] - CLEARLY))

    def _open(self, column, lower):
        """Raises a column, or closes it where nothing obeys that."""
        bounds = self.held.setdefault(column, tuple(self.relaxation.columns[:, column]))
        self.relaxation.bound_column(column, lower, bounds[1])
        if self._ask() is None:
            self.relaxation.bound_column(column, bounds[0], max(bounds[0], lower - 1))

    def _settle_cartons(self):
        asked = self._ask()
        while asked is not None and not self.relaxation.is_late():
            places = self._next(self.relaxation.values()[0])
            if not places:
                return
            last = None
            for place in places:
                last = self._settle(place, is_first=place == places[0]) or last
            asked = self._ask()
            if asked is None and last is not None:
                self._take_back(*last)
                asked = self._ask()

    def _settle(self, place, is_first):
        """Takes a carton if all of it is still there, and says which; else the first of several is barred."""
        if not self.rest.holds(self.relaxation.cartons[place]):
            if is_first:
                self._bar(place)
            return None
        filled = self._leaving_enough(self.relaxation.cartons[place])
        taken = self.relaxation.add(filled)
        self.rest.take(filled)
        self.settled[taken] = self.settled.get(taken, 0) + 1
        self._bound(taken, self.settled[taken], math.inf)
        return place, taken

    def _take_back(self, place, taken):
        """A carton after which nothing obeys the rows any more, and what it was made of."""
        self.rest.take(self.relaxation.cartons[taken], -1)
        self.settled[taken] -= 1
        self._bar(taken)
        self._bar(place)

    def _bar(self, place):
        times = self.settled.get(place, 0)
        self.barred.add(place)
        self._bound(place, times, times)

    def _leaving_enough(self, filled):
        """The same carton with so much less of its divisible lots that the rest of each is a part."""
        day, extra = self.relaxation.day, [*filled.extra]
        for row in np.flatnonzero(filled.extra).tolist():
            least = int(day.contents.mass[row])
            over = int(self.rest.grams[row]) - filled.counts[row] * least - extra[row]
            if 0 < over < least <= over + extra[row]:
                extra[row] -= least - over
        return Filled(filled.offer, filled.counts, tuple(extra))

    def _ask(self):
        """Solves, after some rounds of asking for cartons that fit the rest; None if nothing obeys."""
        relaxation = self.relaxation
        for _ in range(ROUNDS):
            duals = relaxation.run()
            if duals is None:
                return None
            contents = [self._contents(offer) for offer in range(len(relaxation.contents))]
            found, _, _ = relaxation.price(relaxation.prices(duals), contents)
            fresh = [filled for filled in found if filled not in relaxation.place]
            for filled in fresh:
                relaxation.add(filled)
            if not fresh:
                return duals
        return relaxation.run()

    def _contents(self, offer):
        """What an offer may carry of the rest: nothing if none of its cartons may be sent."""
        lots, relaxation = self.relaxation.contents[offer], self.relaxation
        if not relaxation.columns[1, relaxation.rows.number[offer]]:
            return lots._replace(count=np.zeros_like(lots.count))
        return self.rest.contents(lots)

    def _next(self, amounts):
        """Places of the cartons settled next: all that are whole already, or the one that is most so."""
        for place, times in self.settled.items():
            amounts[place] -= times
        real = np.flatnonzero(amounts > 1e-6).tolist()
        real.sort(key=lambda place: (-amounts[place], place))
        nearly = [place for place in real if amounts[place] >= NEARLY]
        return nearly or real[:1]

    def _let_go(self):
        """Takes back all bounds that it set."""
        for place in [*self.settled, *self.barred]:
            self._bound(place, 0, math.inf)
        for column, bounds in self.held.items():
            self.relaxation.bound_column(column, *bounds)

    def _bound(self, place, lower, upper):
        column = self.relaxation.column_of[place]
        self.relaxation.highs.changeColBounds(column, float(lower), float(upper))
