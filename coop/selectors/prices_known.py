"""Fares, charges, prices, terms and a carton design as they were known at an instant of the past."""

from datetime import datetime
from typing import NamedTuple

from django.db.models import Prefetch, prefetch_related_objects

from coop.errors import NotFound
from coop.models import (
    CartonDesign,
    Charge,
    DesignMaterial,
    FishPrice,
    MaterialPrice,
    Tariff,
    TariffRule,
    TariffStep,
    Terms,
)
from coop.selectors.cost import Prices, concerns


class PricesKnown(NamedTuple):
    """What `selectors.cost` works a bill out from; the design is the version asked for, as it was."""

    prices: Prices
    design: CartonDesign


def prices_known_at(instant: datetime, cooperative, route, buyer, species, design) -> PricesKnown:
    """With this any day's cost comes out again, to the coin, as it would have been answered at `instant`.

    What was changed later, or written later for a day that was over by then, does not count. NotFound where
    the version of the design was not known yet. Names, units and places are those of today.
    """
    tariffs = list(Tariff.history.as_of(instant).filter(cooperative=cooperative, route=route))
    prefetch_related_objects(
        tariffs,
        Prefetch("rules", TariffRule.history.as_of(instant).order_by("position")),
        Prefetch("rules__steps", TariffStep.history.as_of(instant).order_by("from_kg")),
    )
    charges = Charge.history.as_of(instant).filter(cooperative=cooperative)
    fish_prices = FishPrice.history.as_of(instant).filter(cooperative=cooperative, species=species)
    material_prices = MaterialPrice.history.as_of(instant).filter(material__cooperative=cooperative)
    prices = Prices(
        cooperative=cooperative,
        route=route,
        buyer=buyer,
        tariffs=tuple(tariffs),
        charges=tuple(sorted((row for row in charges if concerns(row, route, buyer)), key=in_order)),
        fish_prices=tuple(fish_prices),
        material_prices=tuple(material_prices),
        terms=tuple(Terms.history.as_of(instant).filter(cooperative=cooperative)),
    )
    return PricesKnown(prices, design_known_at(instant, design))


def design_known_at(instant, design) -> CartonDesign:
    """One version of a design with its materials, as it was known."""
    found = CartonDesign.history.as_of(instant).filter(pk=design.pk).first()
    if found is None:
        raise NotFound(f"this version of {design.name} was not known yet at {instant.isoformat()}")
    materials = Prefetch("materials", DesignMaterial.history.as_of(instant).order_by("id"))
    prefetch_related_objects([found], materials, "materials__material__prices")
    return found


def in_order(charge):
    """As the lines of a bill stand that is worked out from what is stored."""
    return charge.kind, charge.name, -charge.valid_from.toordinal(), charge.pk
