"""Departures and cartons as the engine of plans takes them: safe fillings, costs by straight lines, fares."""

from dataclasses import dataclass
from fractions import Fraction

import numpy as np

from coop.engines.carton import load
from coop.engines.consolidation import Offer
from coop.engines.journey_time import receive
from coop.engines.money import exact
from coop.models import CartonDesign
from coop.selectors.cost import Prices, items_of, tariff_counting
from coop.selectors.departures import Plan
from coop.selectors.engine_inputs import carton_of
from coop.selectors.packing import gross_kg
from coop.selectors.parcels import capacity_kg
from coop.selectors.safe_fills import NEVER
from coop.selectors.tariffs_reckoned import tariff_of

FILLINGS = (0.25, 0.5, 0.75, 1.0)
"""Shares of the capacity at which a carton is judged before anybody knows what it will hold.

A lot that fits is judged by itself, too: nobody is told that it is too little who was never looked at.
"""


@dataclass(frozen=True)
class Way:
    """One design of carton on one departure."""

    departure: Plan
    design: CartonDesign

    @property
    def key(self):
        """The name that the page of departures gives it."""
        slot = self.departure.slot
        return f"{slot.timetable.pk}-{slot.departs_at:%Y%m%d}-{self.design.slug}"

    @property
    def departure_key(self):
        return self.departure.slot.vehicle

    @property
    def day(self):
        return self.departure.slot.departs_at.date()


def offer_of(way: Way, prices: Prices, fish_drop, kinds, *, lots_kg=(), least_kg=0.0) -> Offer | None:
    """Offer of one way, or None where a price is missing or it is safe for none of the fish.

    kinds: for each lot the SafeFills of fish like it. fish_drop: minor units that a softened kilogram loses.
    lots_kg: what the lots weigh. least_kg: what a first proposal has shown to be needed.
    """
    fits = capacity_kg(way.design)
    masses = fillings_of(way.design, lots_kg)
    least = [fills.safe_from(way.departure, way.design, masses) for fills in kinds]
    allowed = tuple(mass != NEVER for mass in least)
    tariff = _tariff(way, prices)
    if not any(allowed) or tariff is None or least_kg > fits:
        return None
    costs = _straight_costs(way, prices, fits)
    if costs is None:
        return None
    softens = max(
        fills.softened_share(way.departure, way.design, masses[-1])
        for fills, is_allowed in zip(kinds, allowed, strict=True)
        if is_allowed
    )
    slot = way.departure.slot
    return Offer(
        key=way.key,
        departure=way.departure_key,
        closes_at=slot.closes_at.timestamp(),
        leaves_at=slot.departs_at.timestamp(),
        hands_over_by=_hands_over_by(way.departure),
        capacity=exact("capacity", fits),
        allowed=allowed,
        least_mass=exact("least_mass", max(least_kg, max(mass for mass in least if mass != NEVER))),
        carton_cost=costs.carton,
        kilogram_cost=costs.kilogram + exact("softens", round(softens, 4)) * fish_drop,
        consignment_cost=costs.consignment,
        tariff=tariff,
        on=way.day,
        sides=tuple(
            exact("side", side)
            for side in (way.design.outer_length_m, way.design.outer_width_m, way.design.outer_height_m)
        ),
        tare=costs.tare,
        gross_per_kilogram=costs.gross_per_kilogram,
        empties=1 - exact("loss_chance", way.design.loss_chance) if way.design.returnable else Fraction(0),
    )


def fillings_of(design, lots_kg):
    """Kilograms in one carton that are judged for a design, rising to its capacity."""
    fits = capacity_kg(design)
    return sorted({round(share * fits, 3) for share in FILLINGS} | {mass for mass in lots_kg if mass <= fits})


def _tariff(way, prices):
    """The fare of the day as the engine takes it; None where there is none, or it is not finished."""
    row = tariff_counting(prices, way.departure.slot.carrier, way.day)
    try:
        return row and tariff_of(row)
    except ValueError:
        return None


@dataclass(frozen=True)
class Straight:
    """Costs besides the fare, minor units, and gross mass, by lines through a half and a full carton."""

    carton: Fraction
    kilogram: Fraction
    consignment: Fraction
    tare: Fraction
    gross_per_kilogram: Fraction


def _straight_costs(way, prices, fits):
    full, half = (load(carton_of(way.design), mass) for mass in (fits, round(fits / 2, 3)))
    missing = []
    by_basis = [
        _sums(items_of(prices, way.design, ((packed, 1),), way.day, missing)) for packed in (full, half)
    ]
    if missing:
        return None
    (carton, kilogram, consignment), (lighter, _, _) = by_basis
    more = exact("mass", full.mass) - exact("mass", half.mass)
    # Shavings get fewer and bags more with the fish; a line that would fall with the mass is laid level.
    slope = max(Fraction(0), (carton - lighter) / more)
    gross = [exact("gross", round(gross_kg(way.design, packed), 3)) for packed in (full, half)]
    per_kilogram = (gross[0] - gross[1]) / more
    return Straight(
        carton=max(Fraction(0), carton - slope * exact("mass", full.mass)),
        kilogram=kilogram + slope,
        consignment=consignment,
        tare=gross[0] - per_kilogram * exact("mass", full.mass),
        gross_per_kilogram=per_kilogram,
    )


def _sums(items):
    """What one carton, one kilogram and one consignment take, exactly."""
    one = {"consignment": 1, "carton": 1, "kilogram": 1}
    sums = dict.fromkeys(("carton", "kilogram", "consignment"), Fraction(0))
    for item in items:
        whole = item.basis != "kilogram"
        sums[item.basis] += item.line(one).amount_minor if whole else item.used_up * item.rate
    return sums["carton"], sums["kilogram"], sums["consignment"]


def _hands_over_by(departure):
    """The hour s by which it is in the buyer's freezer, as cautiously as the cooperative wants it."""
    draws, receiving = departure.draws, departure.receiving
    arrival = departure.outing.wait + draws.delay + draws.travel
    handed_over = receive(arrival, opens=receiving.opens, closes=receiving.closes)
    cautious = float(np.quantile(handed_over, departure.slot.standard.confidence, method="higher"))
    return departure.slot.closes_at.timestamp() + cautious
