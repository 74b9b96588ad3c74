"""What it costs to let fish wait in the freezer until its carton is closed: power, and quality."""

from dataclasses import dataclass
from fractions import Fraction

from coop.engines.money import exact, half_up
from coop.engines.storage import TEMPERATURES, keeping_cost, life_used, quality_loss
from coop.models import Species
from coop.selectors.freezers import freezers_of

DAY = 86_400.0
WARMEST_STORE = max(TEMPERATURES)


@dataclass(frozen=True)
class WaitingCost:
    """Minor units for the whole fish; None where no freezer, or no price of the fish, is known."""

    storage_minor: int | None
    quality_minor: int | None

    @property
    def total_minor(self):
        return (self.storage_minor or 0) + (self.quality_minor or 0)


@dataclass(frozen=True)
class Store:
    """Where fish waits: the dearest and the warmest of the cooperative's freezers, whichever it lies in.

    keeping is in minor units a kilogram and day, None where no freezer is entered: then the fish is taken to
    be as warm as it is when it is packed.
    """

    temperature_c: float
    keeping: Fraction | None

    def waiting_cost(self, *, mass_kg, seconds, species: Species, price_drop) -> WaitingCost:
        """Of so many kilograms over a time; price_drop is what a kilogram loses over its whole good life."""
        mass, storage = exact("mass_kg", mass_kg), None
        if self.keeping is not None:
            storage = half_up(mass * self.keeping * exact("seconds", seconds) / 86_400)
        if price_drop is None:
            return WaitingCost(storage, None)
        lost = quality_loss(self._life_used(seconds, species), price_drop=price_drop)
        return WaitingCost(storage, half_up(mass * lost))

    def _life_used(self, seconds, species):
        # In a freezer that is too warm to store fish in, all is lost with the first hour: nobody measured it.
        if self.temperature_c > WARMEST_STORE:
            return float(seconds > 0)
        return float(life_used(seconds, temperature=self.temperature_c, fat=species.fat_share))


def store_of(cooperative, *, start_temperature_c, terms):
    """The Store of a cooperative's fish under the terms of the day on which it begins to wait."""
    rows = list(freezers_of(cooperative))
    keeping = [
        keeping_cost(
            standing=row.standing_w,
            holds=row.holds_kg,
            price=terms.electricity_price_minor_per_kwh,
        )
        for row in rows
    ]
    warmest = max((row.air_temperature_c for row in rows), default=start_temperature_c)
    return Store(warmest, max(keeping, default=None))


def price_drop_of(prices, day):
    """What a kilogram fetches less at the end of its good life: as little as soft fish, or None.

    Common practice, no source: no table of prices over storage life is known.
    """
    price = next((row for row in prices.fish_prices if row.counts_on(day)), None)
    return price and price.sold_minor_per_kg - price.soft_minor_per_kg
