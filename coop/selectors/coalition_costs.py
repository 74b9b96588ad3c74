"""What some of those who share a parcel would pay by themselves, together or alone."""

from dataclasses import dataclass, field
from datetime import timedelta

import numpy as np

from coop.engines.carton import capacity
from coop.engines.carton_choice import fewest_cartons
from coop.errors import Invalid
from coop.selectors.cost import Prices, bill_of
from coop.selectors.departures import Plan
from coop.selectors.engine_inputs import carton_of
from coop.selectors.safe_fills import SafeFills

MOST_MASSES = 256
"""Other masses are billed as the next of so many steps up: each bill takes most of a millisecond."""
DAYS_AROUND = 3
"""Days before and after a departure on which somebody could go alone instead."""


@dataclass(frozen=True)
class Sent:
    """Fish that travels by itself in the fewest cartons of one design, and what is paid for it."""

    design: object
    carton_kg: float
    total_minor: int


def ways_to_send(prices, designs, *, carrier, mass_kg, day):
    """Every design of that day that the vehicle has places for and that has a price, the cheapest first."""
    found = []
    for design in (row for row in designs if row.counts_on(day)):
        cartons = int(fewest_cartons(mass_kg, capacity=capacity(carton_of(design))))
        if cartons > carrier.carton_places:
            continue
        total = _total(prices, carrier=carrier, design=design, mass_kg=mass_kg, cartons=cartons, day=day)
        if total is not None:
            found.append(Sent(design, mass_kg / cartons, total))
    return sorted(found, key=lambda sent: sent.total_minor)


def _total(prices, **terms):
    """Minor units that are paid, or None where a price is missing or so little is no carton of fish."""
    try:
        found = bill_of(prices, **terms).cost
    except Invalid:
        return None
    return found and found.total


@dataclass
class CoalitionCosts:
    """The cheapest safe consignment of any mass on the departure of one parcel, never above the bill of all.

    Some fish alone may be too little to stay hard in any carton: it then pays for what would be enough, since
    a carton can be made up with ice. Where nothing would be safe, or the timetable has changed so that the
    departure is None, it pays the bill of all.
    """

    prices: Prices
    designs: tuple
    fills: SafeFills
    departure: Plan | None
    mass_kg: float
    bill_minor: int
    found: dict = field(default_factory=dict)
    safe_from: dict = field(default_factory=dict)

    def of_masses(self, masses_kg):
        """(k,) minor units for (k,) kg, never falling with the mass."""
        asked = np.asarray(masses_kg, float)
        steps = np.unique(asked)
        if steps.size > MOST_MASSES:
            steps = np.linspace(0.0, self.mass_kg, MOST_MASSES + 1)[1:]
        self._price([mass for mass in steps.tolist() if mass not in self.found])
        costs = np.array([self.found[mass] for mass in steps.tolist()], float)
        # What more fish may travel for, less may too.
        never_falling = np.minimum.accumulate(np.minimum(costs, self.bill_minor)[::-1])[::-1]
        at = np.searchsorted(steps, asked - 1e-9)
        return never_falling[np.minimum(at, steps.size - 1)]

    def _price(self, masses_kg):
        ways = {mass: self._ways(mass) for mass in masses_kg}
        filled = {}
        for sent in (sent for found in ways.values() for sent in found):
            filled.setdefault(sent.design.pk, []).append(sent.carton_kg)
        for mass, found in ways.items():
            safe = (sent.total_minor for sent in found if self._is_safe(sent, filled))
            self.found[mass] = next(safe, self.bill_minor)

    def _ways(self, mass_kg):
        if self.departure is None:
            return []
        slot = self.departure.slot
        return ways_to_send(
            self.prices, self.designs, carrier=slot.carrier, mass_kg=mass_kg, day=slot.departs_at.date()
        )

    def _is_safe(self, sent, filled):
        """By a threshold of each design, sought among the fillings asked for when it first matters."""
        pk = sent.design.pk
        if pk not in self.safe_from:
            self.safe_from[pk] = self.fills.safe_from(self.departure, sent.design, filled[pk])
        return sent.carton_kg >= self.safe_from[pk]


def cheapest_alone(prices, designs, fills, *, mass_kg, ready_at):
    """Minor units of the cheapest safe consignment of one member's fish by itself, or None if there is none.

    On any departure of the days of `fills` that closes when the fish is ready.
    """
    ways = [
        (sent.total_minor, departure.slot.departs_at, sent, departure)
        for departure in fills.departures
        if departure.slot.closes_at >= ready_at
        for sent in _ways_on(prices, designs, departure.slot, mass_kg)
    ]
    for total, _, sent, departure in sorted(ways, key=lambda way: way[:2]):
        if fills.is_safe(departure, sent.design, sent.carton_kg):
            return total
    return None


def _ways_on(prices, designs, slot, mass_kg):
    return ways_to_send(prices, designs, carrier=slot.carrier, mass_kg=mass_kg, day=slot.departs_at.date())


def days_around(day):
    return day - timedelta(days=DAYS_AROUND), day + timedelta(days=DAYS_AROUND)
