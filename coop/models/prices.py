from django.db import models
from django.db.models import F, Q

from coop.models.columns import Day, Link
from coop.models.figures import Figured, sourced
from coop.models.history import History
from coop.models.measures import MONEY_MINOR, money, ranges, rule
from coop.models.ownership import Owned
from coop.models.species import Species
from coop.models.validity import Dated, dated


class FishPrice(Dated, Owned, Figured):
    """What a kilogram of one species costs at the lake and fetches in the city, hard or soft."""

    key_fields = ("cooperative__slug", "species__code", "valid_from")
    alike = ("cooperative", "species")

    species = Link(Species, on_delete=models.PROTECT, related_name="fish_prices", verbose_name="species")
    bought_minor_per_kg = money("bought at", "a kilogram, in minor units (ngwee)")
    sold_minor_per_kg = money("sold at, hard", "a kilogram, in minor units (ngwee)")
    soft_minor_per_kg = money("sold at, soft", "what a kilogram of softened fish fetches, in minor units")
    confirmed_on = Day("last confirmed on", help_text="when somebody last asked")

    history = History()

    class Meta:
        ordering = ("species", "-valid_from")
        verbose_name = "price of fish"
        verbose_name_plural = "prices of fish"
        constraints = [
            *ranges(
                "fish_price",
                bought_minor_per_kg=MONEY_MINOR,
                sold_minor_per_kg=MONEY_MINOR,
                soft_minor_per_kg=MONEY_MINOR,
            ),
            rule(
                "fish_price_soft_not_above_hard",
                Q(soft_minor_per_kg__lte=F("sold_minor_per_kg")),
                "Soft fish does not fetch more than hard fish.",
            ),
            *sourced("fish_price"),
            *dated("fish_price"),
        ]

    def __str__(self):
        return f"{self.species}, from {self.valid_from}"
