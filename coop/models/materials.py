from django.db import models
from django.db.models import Q

from coop.models.columns import Day, Link, Slug, Text
from coop.models.figures import Figured, sourced
from coop.models.history import History
from coop.models.keys import Keyed
from coop.models.measures import MONEY_MINOR, Range, known, money, number, ranges, rule
from coop.models.ownership import Owned
from coop.models.validity import Dated, dated

SACK_VOLUME = Range(0.001, 2)


class Unit(models.TextChoices):
    PIECE = "piece", "piece"
    KILOGRAM = "kg", "kilogram"
    METRE = "m", "metre"
    SQUARE_METRE = "m2", "square metre"
    CUBIC_METRE = "m3", "cubic metre"
    SACK = "sack", "sack"


class Material(Owned, Keyed):
    """What is bought to pack a carton."""

    key_fields = ("cooperative__slug", "slug")

    slug = Slug("short name")
    name = Text("name", max_length=120)
    unit = Text("sold by the", max_length=8, choices=Unit.choices)
    sack_volume_m3 = number(
        "room of one sack (m³)", SACK_VOLUME, "as it is bought; only for what is sold by the sack", null=True
    )

    class Meta:
        ordering = ("name", "id")
        constraints = [
            models.UniqueConstraint(
                fields=["cooperative", "slug"], name="material_slug_once_in_a_cooperative"
            ),
            *known("material", unit=Unit),
            *ranges("material", sack_volume_m3=SACK_VOLUME),
            rule(
                "material_sack_has_a_volume",
                Q(unit=Unit.SACK, sack_volume_m3__isnull=False)
                | (~Q(unit=Unit.SACK) & Q(sack_volume_m3__isnull=True)),
                "Room of one sack: needed for what is sold by the sack, empty for anything else.",
            ),
        ]

    def __str__(self):
        return self.name


class MaterialPrice(Dated, Figured):
    owned_through = "material__cooperative"
    key_fields = ("material__cooperative__slug", "material__slug", "valid_from")
    alike = ("material",)

    material = Link(Material, on_delete=models.CASCADE, related_name="prices", verbose_name="material")
    amount_minor = money("price", "of one piece, kilogram, metre or sack, in minor units (ngwee)")
    confirmed_on = Day("last confirmed on", help_text="when somebody last asked")

    history = History()

    class Meta:
        ordering = ("material", "-valid_from")
        verbose_name = "price of a material"
        verbose_name_plural = "prices of materials"
        constraints = [
            *ranges("material_price", amount_minor=MONEY_MINOR),
            *sourced("material_price"),
            *dated("material_price"),
        ]

    def __str__(self):
        return f"{self.material}, from {self.valid_from}"
