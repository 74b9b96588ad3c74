"""What a plan costs, worked out again from its cartons with the true tariff: exact, in minor units."""

from fractions import Fraction
from functools import cached_property

from coop.engines.money import half_up
from coop.engines.tariff import Consignment, fare

GRAMS = 1000
HALF = Fraction(1, 2)


def consignment_cost(offer, *, cartons, grams):
    """What all cartons of one offer cost together, to the minor unit.

    offer     Offer   –
    cartons   int     –   0 or more; none cost nothing
    grams     int     g   of fish in all of them

    Returns int minor units: each line rounded half up once.
    Raises ValueError for a consignment or a day that the tariff refuses.
    Source: No source: addition; the fare is `tariff.fare`.
    """
    if not cartons:
        return 0
    mass = Fraction(grams, GRAMS)
    own = (offer.carton_cost * cartons, offer.kilogram_cost * mass, offer.consignment_cost)
    cost = sum(half_up(line) for line in own)
    if offer.tariff is None:
        return cost
    length, width, height = offer.sides
    carried = Consignment(
        gross_mass=offer.tare * cartons + offer.gross_per_kilogram * mass,
        cartons=cartons,
        outer_length=length,
        outer_width=width,
        outer_height=height,
        empties=offer.empties * cartons,
    )
    return cost + sum(line.amount_minor for line in fare(offer.tariff, consignment=carried, on=offer.on))


def rounding_of(offer):
    """By how much the bill of an offer may lie above or below the sum of its lines before rounding.

    offer   Offer   –

    Returns Fraction minor units: half for each line that need not be whole.
    Raises AttributeError for what is no offer.
    Source: No source: the error of rounding half up.
    """
    rates = (offer.carton_cost, offer.kilogram_cost, offer.consignment_cost)
    own = sum(HALF for rate in (rates[0], rates[2]) if rate.denominator != 1)
    return own + (HALF if rates[1] else 0) + offer.pieces.rounding


class Ledger:
    """Costs of the consignments of a day, each worked out once."""

    def __init__(self, day):
        self.day, self.known, self.weighed = day, {}, {}

    def consignment(self, offer, cartons, grams):
        """Minor units of all cartons of an offer."""
        key = (offer, cartons, grams)
        if key not in self.known:
            self.known[key] = consignment_cost(self.day.offers[offer], cartons=cartons, grams=grams)
        return self.known[key]

    def total(self, filled, rest):
        """Minor units of a plan: its consignments and what its rest costs that stays."""
        loads = {}
        for carton in filled:
            cartons, grams = loads.get(carton.offer, (0, 0))
            loads[carton.offer] = cartons + 1, grams + self.grams(carton)
        return sum(self.consignment(offer, *load) for offer, load in loads.items()) + self.left(rest)

    def grams(self, carton):
        """g of fish in a carton."""
        key = carton[1:]
        if key not in self.weighed:
            own = sum(n * g for n, g in zip(carton.counts, self.masses, strict=True))
            self.weighed[key] = own + sum(carton.extra)
        return self.weighed[key]

    @cached_property
    def masses(self):
        return self.day.contents.mass.tolist()

    def left(self, rest):
        """Minor units that leaving the rest behind costs."""
        return sum(self.left_of(row, rest) for row in range(len(self.day.classes)))

    def left_of(self, row, rest):
        """Minor units that leaving the rest of one class behind costs."""
        if self.day.is_divisible(row):
            return half_up(self.day.worth[row] * Fraction(int(rest.grams[row]), GRAMS))
        return self.day.left[row] * int(rest.lots[row])
