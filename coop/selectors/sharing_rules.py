"""One bill under every rule, to the coin, and who would rather leave under each."""

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from coop.engines import cost_sharing
from coop.engines.coalitions import MOST_PLAYERS, coalition_costs, members_of, subadditive_cover
from coop.engines.core import MOST_TESTED, core_is_empty, objection
from coop.engines.largest_remainder import largest_remainder
from coop.engines.nucleolus import nucleolus
from coop.engines.shapley import shapley, shapley_sampled
from coop.models import SharingRule

ORDERS = 2000
SEED = 19


@dataclass(frozen=True)
class Shared:
    """What each pays under one rule, in minor units; `leaves` would save `gain_minor` together by leaving.

    `leaves` is None where there are too many to test. Not feasible: somebody pays more than alone, whatever
    the split.
    """

    rule: str
    amounts_minor: tuple[int, ...]
    feasible: bool
    leaves: tuple[int, ...] | None
    gain_minor: int


@dataclass(frozen=True)
class Sharing:
    """Players with masses kg, the bill, what each would pay alone (or None), and what a mass costs by itself.

    `cost` takes masses (k,) kg to minor units (k,). Coalitions travel as one consignment, a single player
    also alone on another departure. For Shapley's value and the nucleolus a coalition may part as well, up
    to twelve players; the core is the same either way.
    """

    masses: tuple[float, ...]
    bill: int
    alone: tuple[int | None, ...]
    cost: object
    coin: int

    @property
    def players(self):
        return len(self.masses)

    @property
    def is_sampled(self):
        """Whether Shapley's value is estimated."""
        return self.players > MOST_PLAYERS

    @cached_property
    def costs(self):
        """(2ⁿ,) minor units of all coalitions."""
        costs = np.minimum(coalition_costs(self.masses, cost=self.cost), self.bill)
        single = 2 ** np.arange(self.players)
        costs[single] = np.minimum(costs[single], self.limits)
        costs[-1] = self.bill
        return costs

    @cached_property
    def parted(self):
        """The same where a coalition may also part and send separately; all together pay the bill."""
        if self.players > MOST_TESTED:
            return self.costs
        costs = subadditive_cover(self.costs)
        costs[-1] = self.bill
        return costs

    @property
    def limits(self):
        """Minor units that each would pay alone, inf for who has no safe way."""
        return np.array([math.inf if alone is None else alone for alone in self.alone])

    @cached_property
    def core_is_empty(self):
        """Whether no split is stable; None where there are too many to tell."""
        return core_is_empty(self.costs) if self.players <= MOST_TESTED else None

    def rules(self):
        """Shared of every rule that so many players can be shared by."""
        # Coalitions first: their masses tell where cartons begin to be safe.
        exact = {SharingRule.SHAPLEY: self._shapley()}
        if self.players <= MOST_TESTED:
            exact[SharingRule.NUCLEOLUS] = nucleolus(self.parted)
        exact[SharingRule.SERIAL] = self._serial()
        exact[SharingRule.BY_WEIGHT] = cost_sharing.by_weight(self.masses, bill=self.bill)
        exact[SharingRule.EQUAL] = cost_sharing.equal(self.players, bill=self.bill)
        plain = {rule: self._shared(rule, shares) for rule, shares in exact.items()}
        plain[SharingRule.CAPPED] = self._capped()
        return tuple(plain[rule] for rule in SharingRule if rule in plain)

    def _capped(self):
        capped = cost_sharing.capped(self.masses, bill=self.bill, alone=self.limits)
        limits = [math.inf if alone is None else alone for alone in self.alone]
        return self._shared(
            SharingRule.CAPPED,
            capped.shares,
            feasible=capped.feasible,
            at_most=limits if capped.feasible else None,
        )

    def _shared(self, rule, shares, *, feasible=True, at_most=None):
        leaves, gain = self._objection(shares)
        amounts = largest_remainder(shares, total=self.bill, coin=self.coin, at_most=at_most)
        return Shared(rule, amounts, feasible, leaves, gain)

    def _objection(self, shares):
        """Of the shares before they were rounded; what is less than a coin is no reason to leave."""
        if self.players > MOST_PLAYERS:
            return None, 0
        found = objection(self.costs, shares)
        if found.gain < self.coin:
            return (), 0
        return members_of(found.coalition), math.floor(found.gain)

    def _serial(self):
        quantities = cost_sharing.serial_quantities(self.masses)
        costs = np.minimum(self.cost(quantities), self.bill)
        costs[-1] = self.bill
        return cost_sharing.serial(self.masses, cost=costs)

    def _shapley(self):
        if not self.is_sampled:
            return shapley(self.parted)
        masses = np.array(self.masses)

        def cost(coalitions):
            costs = np.minimum(self.cost(coalitions @ masses), self.bill)
            return np.where(coalitions.all(axis=1), self.bill, costs)

        return shapley_sampled(cost, players=self.players, orders=ORDERS, seed=SEED).shares
