"""The way from lots and offers to a plan and a bound: relaxation, outlines, and plans that follow them."""

import math

import numpy as np

from coop.engines.consolidation_assignment import assigned
from coop.engines.consolidation_bill import Ledger
from coop.engines.consolidation_choice import chosen
from coop.engines.consolidation_columns import Filled, Relaxation
from coop.engines.consolidation_dive import Dive
from coop.engines.consolidation_outline import outline
from coop.engines.consolidation_rest import Draft, Rest

MANY = 3000
"""Contents of cartons up to which all of them are put before the solver, which then proves the best plan."""
ROUNDS_OF_LINKS = 12
SPARES = (0.0, 0.02, 0.0, 0.01, 0.03, 0.0, 0.05)
"""Shares of each carton that an outline leaves empty, since whole lots seldom fill one to the brim."""
OUTLINES, NEIGHBOURHOODS = 14, 3
MOST_FREED, NEW_SHELLS, FAIR = 7, 3, 0.2
"""Cartons emptied at once, others that may be opened, and the free share that a full departure counts as."""
OUTLINE_SECONDS, SPREAD_SECONDS, ASSIGN_SECONDS = 4.0, 1.5, 0.7
NOISE = 1e-7
"""Share of the cost by which the solver's own tolerances may lift a bound."""


class Search:
    """Keeps the best plan, its exact cost, and the bound below which no plan can be."""

    def __init__(self, day, *, rounding, gap, clock, until):
        self.day, self.rounding, self.gap = day, float(rounding), gap
        self.clock, self.until = clock, until
        self.ledger = Ledger(day)
        self.cartons, self.cost, self.bound = (), self.ledger.total((), Rest(day)), 0
        self.rng = np.random.default_rng(0)

    def run(self):
        """Searches until the gap is proven, time is up, or nothing more is tried."""
        if not self.day.classes:
            self.bound = self.cost
            return
        self._greedy()
        relaxation = Relaxation(self.day, clock=self.clock, until=self.until)
        for carton in self.cartons:
            relaxation.add(carton)
        proof = self._root(relaxation)
        if self._is_done() or proof is None or self._choose_from_all(relaxation, proof):
            return
        self._follow(relaxation)
        if self._is_done() or self._choose_from_all(relaxation, proof):
            return
        for turn in range(OUTLINES):
            before = self.cost
            self._outline(relaxation, SPARES[turn % len(SPARES)])
            self._neighbourhoods(relaxation.rows)
            if self._is_done() or (self.cost < before and self._choose_from_all(relaxation, proof)):
                return

    def offer(self, cartons):
        """Takes a plan if it is better, after adding what still pays; whether it was."""
        draft = Draft(self.day, self.ledger, [carton for carton in cartons if any(carton.counts)])
        draft.add_what_pays()
        draft.drop_low()
        draft.add_what_pays()
        if draft.cost >= self.cost:
            return False
        self.cartons, self.cost = tuple(sorted(draft.filled)), draft.cost
        return True

    def _is_done(self):
        bill = self.cost - self.ledger.left(Rest(self.day, self.cartons))
        near = self.cost - self.bound <= max(self.gap * bill, self.rounding)
        return near or self.clock() > self.until

    def _prove(self, bound):
        """Raises the bound to a whole number, less what rounding of bills and solver may amount to."""
        if math.isfinite(bound):
            sure = bound - self.rounding - NOISE * (1 + abs(bound))
            self.bound = min(max(self.bound, math.ceil(sure)), self.cost)

    def _seconds(self, most):
        return min(most, max(self.until - self.clock(), 0.0))

    def _greedy(self):
        """A first plan, lot by lot."""
        draft = Draft(self.day, self.ledger)
        draft.add_what_pays(may_start_low=True)
        draft.drop_low()
        self.offer(draft.filled)

    def _root(self, relaxation):
        """Converges, links what is opened, and converges again; the prices that prove the bound."""
        proof = None
        for _ in range(ROUNDS_OF_LINKS):
            bound, prices = relaxation.converge()
            if prices is not None:
                self._prove(bound)
                proof = bound, prices
            if self._is_done() or not relaxation.link():
                break
        return proof

    def _choose_from_all(self, relaxation, proof):
        """Lets the solver choose from all contents that a better plan may hold; False if too many."""
        bound, prices = proof
        slack = max(self.cost - bound + self.rounding, 0.0)
        contents, are_all = relaxation.contents_within(prices, slack=slack, limit=MANY)
        if not are_all:
            return False
        found = chosen(relaxation, contents, seconds=self._seconds(math.inf), gap=self.gap / 2)
        if found.cartons is not None:
            self.offer(found.cartons)
        self._prove(min(found.bound, self.cost))
        return True

    def _follow(self, relaxation):
        """Plans that stay close to the relaxation as it is bounded now."""
        dived = Dive(relaxation).cartons
        self.offer(dived)
        if (self.day.contents.extra > 0).any() and not self._is_done():
            self._spread(relaxation.rows, dived)

    def _outline(self, relaxation, spare):
        """Fixes all whole numbers as an outline has them, and follows that."""
        found = outline(relaxation, seconds=self._seconds(OUTLINE_SECONDS), gap=self.gap / 4, spare=spare)
        if not spare:
            self._prove(found.bound)
        if found.values is None or self._is_done():
            return
        whole = [column for columns in relaxation.rows.choices for column in columns]
        bounds = relaxation.columns[:, whole].copy()
        for column in whole:
            value = round(found.values[column])
            relaxation.bound_column(column, value, value)
        if relaxation.converge()[1] is not None:
            self._follow(relaxation)
        for column, (lower, upper) in zip(whole, bounds.T, strict=True):
            relaxation.bound_column(column, lower, upper)

    def _spread(self, rows, cartons):
        """Takes the divisible lots out of all cartons and pours them in anew."""
        divisible, nothing = self.day.contents.extra > 0, (0,) * len(self.day.classes)
        shells = [Filled(c.offer, tuple(np.where(divisible, 0, c.counts).tolist()), nothing) for c in cartons]
        draft = Draft(self.day, self.ledger)
        for shell in shells:
            draft.rest.take(shell)
        found = assigned(draft, rows, shells, seconds=self._seconds(SPREAD_SECONDS))
        if found is not None:
            self.offer(found)

    def _neighbourhoods(self, rows):
        """Empties the cartons of some departures, and lays their lots anew into these and a few others."""
        nothing = (0,) * len(self.day.classes)
        for _ in range(NEIGHBOURHOODS):
            if self._is_done() or not self.cartons:
                return
            freed = self._drawn()
            kept = [carton for number, carton in enumerate(self.cartons) if number not in freed]
            more = self.rng.choice(len(self.day.offers), min(NEW_SHELLS, len(self.day.offers)), replace=False)
            again = [self.cartons[number].offer for number in sorted(freed)]
            shells = [Filled(int(offer), nothing, nothing) for offer in [*again, *more.tolist()]]
            draft = Draft(self.day, self.ledger, kept)
            found = assigned(draft, rows, shells, seconds=self._seconds(ASSIGN_SECONDS))
            if found is not None:
                self.offer(found)

    def _drawn(self):
        """Numbers of the cartons of some departures, drawn at random, rather those with much room."""
        of_departure, room = {}, {}
        for number, carton in enumerate(self.cartons):
            departure, most = self.day.departure[carton.offer], self.day.rooms[carton.offer].capacity
            of_departure.setdefault(departure, []).append(number)
            room[departure] = room.get(departure, FAIR) + 1 - self.ledger.grams(carton) / most
        departures = sorted(of_departure)
        # A uniform draw to the power of one over its weight is the greatest in proportion to the weight.
        keys = self.rng.random(len(departures)) ** (1 / np.array([room[each] for each in departures]))
        freed = set()
        for place in np.argsort(-keys, kind="stable").tolist():
            numbers = of_departure[departures[place]]
            if len(freed) + len(numbers) <= MOST_FREED:
                freed.update(numbers)
        return freed or set(of_departure[departures[0]])
