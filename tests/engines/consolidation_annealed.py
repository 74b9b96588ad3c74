"""What the tests of annealing share: a day in whole numbers, and a plan of it that can be checked."""

import numpy as np

from coop.engines.consolidation import Plan, _left, _named, _rounding
from coop.engines.consolidation_anneal import Annealing
from coop.engines.consolidation_bill import Ledger
from coop.engines.consolidation_day import reduced
from coop.engines.consolidation_rest import Draft, Rest
from tests.engines.consolidation_cases import small_day
from tests.engines.consolidation_parts import day_of_parts
from tests.engines.consolidation_planning import planning_day


class Annealed:
    """A day, its annealing, and a first plan, lot by lot."""

    def __init__(self, day):
        self.given, self.places = day, day.places
        self.day = reduced(day.lots, day.offers, places=day.places, may_not_share=day.may_not_share)
        self.ledger, self.rounding = Ledger(self.day), _rounding(self.day)
        draft = Draft(self.day, self.ledger)
        draft.add_what_pays(may_start_low=True)
        draft.drop_low()
        self.start = tuple(draft.filled)
        grams = sum(self.day.class_mass(row) * len(group) for row, group in enumerate(self.day.classes))
        self.price = max(draft.cost, 1) / max(grams, 1)
        self.annealing = Annealing(self.day, price=self.price) if self.day.classes else None

    def better(self, cartons=None, *, seed=0, hot=0.1, is_late=lambda: False):
        start = self.start if cartons is None else cartons
        return self.annealing.better(start, rng=np.random.default_rng(seed), hot=hot, is_late=is_late)

    def framed(self, frame, cartons, *, seed=0, strict=0.3):
        rng = np.random.default_rng(seed)
        return self.annealing.framed(frame, cartons, strict=strict, rng=rng, hot=0.1, is_late=lambda: False)

    def cost(self, cartons):
        return self.ledger.total(cartons, Rest(self.day, cartons))

    def plan(self, cartons):
        """As `plan` would tell it."""
        draft = Draft(self.day, self.ledger, cartons)
        left = _left(self.given.lots, self.given.offers, self.places, self.day, draft)
        bill = self.cost(cartons) - self.ledger.left(draft.rest)
        return Plan(_named(self.day, draft.filled), bill, self.cost(cartons), 0, 0.0, left, 0.0)


def some_days(first, last):
    """Small days of all kinds, those with nothing to plan left out."""
    days = [each for seed in range(first, last) for each in (small_day(seed), day_of_parts(seed))]
    days += [planning_day(seed, lots=14, departures=5) for seed in range(first, first + 2)]
    return [found for found in map(Annealed, days) if found.annealing is not None]
