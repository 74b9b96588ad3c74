"""A plan from the relaxation: first what is opened is settled, then one carton after the other."""

import math

import numpy as np

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
        while not self.relaxation.is_late() and self._ask() is not None:
            places = self._next(self.relaxation.values()[0])
            if not places:
                return
            for place in places:
                self._settle(place, is_first=place == places[0])

    def _settle(self, place, is_first):
        """Takes a carton if all of it is still there; the first of several is barred otherwise."""
        filled, times = self.relaxation.cartons[place], self.settled.get(place, 0)
        if self.rest.holds(filled):
            self.rest.take(filled)
            self.settled[place] = times + 1
            self._bound(place, times + 1, math.inf)
        elif is_first:
            self.barred.add(place)
            self._bound(place, times, times)

    def _ask(self):
        """Solves, after some rounds of asking for cartons that fit the rest; None if nothing obeys."""
        relaxation = self.relaxation
        for _ in range(ROUNDS):
            duals = relaxation.run()
            if duals is None:
                return None
            contents = [self.rest.contents(lots) for lots in relaxation.contents]
            found, _, _ = relaxation.price(relaxation.prices(duals), contents)
            fresh = [filled for filled in found if filled not in relaxation.place]
            for filled in fresh:
                relaxation.add(filled)
            if not fresh:
                return duals
        return relaxation.run()

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
