"""The way from lots and offers to a plan and a bound: relaxation, outlines, and plans that follow them."""

import math

import numpy as np

from coop.engines.consolidation_anneal import Annealing
from coop.engines.consolidation_bill import GRAMS, Ledger
from coop.engines.consolidation_choice import chosen
from coop.engines.consolidation_columns import Relaxation
from coop.engines.consolidation_dive import Dive
from coop.engines.consolidation_frame import frame_of, lacking
from coop.engines.consolidation_outline import outline
from coop.engines.consolidation_rest import Draft, Rest

MANY = 3000
"""Contents of cartons up to which all of them are put before the solver, which then proves the best plan."""
ROUNDS_OF_LINKS = 12
OUTLINES, TRIES = 24, 4
"""Most outlines, and how often lots are laid into the cartons of one before it counts as too tight."""
LEAST_MORE, MOST_MORE, LESS = 1e-3, 4e-3, 0.7
"""Shares of each carton that the next outline leaves empty besides, at least and at most, since whole lots
seldom fill one to the brim; and what part of it all stays where an outline is too dear."""
OUTLINE_SECONDS, OUTLINE_GAP = (8.0, 1.5), (10, 4)
"""For an outline with nothing spared, which also proves, and with some: s, and parts of the gap wanted."""
HOT, FRAMED, AGAIN, GOOD_PLANS = 0.044, 0.12, 0.015, 2
"""First temperatures, of what a carton costs: from the relaxation, in a frame, and of the best few again."""
STRICT = (0.3, 0.0)
"""Shares of the next step that a consignment pays from its border on, in turn."""
NOISE = 1e-7
"""Share of the cost by which the solver's own tolerances may lift a bound."""


class Search:
    """Keeps the best plan, its exact cost, and the bound below which no plan can be."""

    def __init__(self, day, *, rounding, gap, clock, until):
        self.day, self.rounding, self.gap = day, float(rounding), gap
        self.clock, self.until = clock, until
        self.ledger = Ledger(day)
        self.good, self.annealing = [], None
        self.aim, self.tight = 0, 0.0
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
        self._outlines(relaxation, proof)

    def _outlines(self, relaxation, proof):
        """Outlines that spare so much that lots find room in whole, and no more than a good plan may cost."""
        spare = 0.0
        for turn in range(OUTLINES):
            before = self.cost
            spare = self._outline(relaxation, spare, turn)
            self._warm_again(turn)
            if self._is_done() or (self.cost < before and self._choose_from_all(relaxation, proof)):
                return

    def offer(self, cartons):
        """Takes a plan if it is better, after adding what still pays; whether it was."""
        draft = Draft(self.day, self.ledger, [carton for carton in cartons if any(carton.counts)])
        draft.add_what_pays()
        draft.drop_low()
        draft.add_what_pays()
        self._remember(tuple(sorted(draft.filled)), draft.cost)
        if draft.cost >= self.cost:
            return False
        self.cartons, self.cost = tuple(sorted(draft.filled)), draft.cost
        return True

    def _is_done(self):
        bill = self.cost - self.ledger.left(Rest(self.day, self.cartons))
        near = self.cost - self.bound <= max(self.gap * bill, self.rounding)
        return near or self._is_late()

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
        if not self._is_done():
            self._anneal(dived, HOT)

    def _outline(self, relaxation, spare, turn):
        """Lays lots into the cartons of an outline; how much the next one should spare."""
        found = self._drawn(relaxation, spare, turn)
        worth_it = min(self.cost, max(self.bound, self.aim) * (1 + self.gap))
        if found.values is None or self._is_done() or found.bound > worth_it:
            return spare * LESS
        if self._learn(relaxation, found.values) > worth_it:
            return spare
        frame = frame_of(relaxation.rows, self.day, found.values)
        with relaxation.held(found.values, but=frame.steps):
            dived = Dive(relaxation).cartons
        self.offer(dived)
        lacks = self._frame(frame, dived)
        if lacks:
            self.tight = spare
            return spare + self._more(frame, lacks)
        is_sharp = self.aim <= self.bound * (1 + self.gap / 2)
        return (self.tight + spare) / 2 if is_sharp else 0.0

    def _drawn(self, relaxation, spare, turn):
        """An outline; one that spares nothing is a proof, too, and tells what a good plan may cost."""
        seconds, gap = self._seconds(OUTLINE_SECONDS[spare > 0]), self.gap / OUTLINE_GAP[spare > 0]
        found = outline(relaxation, seconds=seconds, gap=gap, spare=spare, random_seed=turn)
        if not spare:
            self._prove(found.bound)
            self.aim = found.cost
        return found

    def _more(self, frame, lacks):
        """By what share cartons must hold less for so many kg to find room."""
        capacity = sum(self.day.rooms[offer].capacity for offer in frame.offers) / GRAMS
        return min(max(lacks / max(capacity, 1), LEAST_MORE), MOST_MORE)

    def _learn(self, relaxation, values):
        """What the relaxation costs with all that must be whole as in an outline; its prices hold others."""
        with relaxation.held(values):
            if relaxation.converge()[1] is None:
                return -math.inf
            return relaxation.highs.getObjectiveValue()

    def _frame(self, frame, cartons):
        """Lays lots into the cartons of a frame until all find room; kg that at least found none."""
        annealing, least = self._annealing(), math.inf
        for turn in range(TRIES):
            if annealing is None or self._is_done():
                break
            strict = STRICT[turn % len(STRICT)]
            laid = annealing.framed(
                frame, cartons, strict=strict, rng=self.rng, hot=FRAMED, is_late=self._is_late
            )
            self.offer(laid)
            least = min(least, lacking(frame, self.day, laid))
            if not least:
                break
        return least

    def _remember(self, cartons, cost):
        """Keeps the best few plans that differ in cost, to go on from."""
        if all(cost != other for other, _ in self.good):
            self.good = sorted([*self.good, (cost, cartons)])[:GOOD_PLANS]

    def _annealing(self):
        """None where nothing costs anything."""
        if self.annealing is None and self.bound > 0:
            grams = sum(self.day.class_mass(row) * len(group) for row, group in enumerate(self.day.classes))
            self.annealing = Annealing(self.day, price=self.bound / grams)
        return self.annealing

    def _anneal(self, cartons, hot):
        """Betters a plan by moving its lots."""
        annealing = self._annealing()
        if annealing is not None:
            self.offer(annealing.better(cartons, rng=self.rng, hot=hot, is_late=self._is_late))

    def _warm_again(self, turn):
        """Anneals one of the good plans again, from less hot."""
        if self.good and not self._is_done():
            self._anneal(self.good[turn % len(self.good)][1], AGAIN)

    def _is_late(self):
        return self.clock() > self.until
