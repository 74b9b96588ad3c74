from django.db import models
from django.db.models import Q

from coop.models.buyers import Buyer
from coop.models.columns import Link, Number, Text
from coop.models.figures import Figured, sourced
from coop.models.history import History
from coop.models.measures import Range, finite, known, rule
from coop.models.validity import Dated, dated

SOFTENED_LIMIT = Range(0.001, 0.5)
TEMPERATURE_LIMIT = Range(-40, -0.5)


class LimitKind(models.TextChoices):
    SOFTENED_SHARE = "softened_share", "share of the fish that softened"
    CORE_C = "core_c", "temperature in the middle (°C)"
    MEAN_C = "mean_c", "mean temperature (°C)"
    WARMEST_C = "warmest_c", "temperature of the warmest twentieth (°C)"


class BuyerLimit(Dated, Figured):
    """What a buyer accepts of fish that leaves on these days."""

    owned_through = "buyer__cooperative"
    key_fields = ("buyer__cooperative__slug", "buyer__slug", "valid_from")
    alike = ("buyer",)

    buyer = Link(Buyer, on_delete=models.CASCADE, related_name="limits", verbose_name="buyer")
    limit_kind = Text("limit on", max_length=16, choices=LimitKind.choices, default=LimitKind.SOFTENED_SHARE)
    limit_value = Number("limit", validators=[finite], help_text="a share such as 0.05, or °C such as -9")

    history = History()

    class Meta:
        ordering = ("buyer", "-valid_from")
        verbose_name = "limit of a buyer"
        verbose_name_plural = "limits of buyers"
        constraints = [
            *known("buyer_limit", limit_kind=LimitKind),
            rule(
                "buyer_limit_fits_its_kind",
                Q(
                    limit_kind=LimitKind.SOFTENED_SHARE,
                    limit_value__gte=SOFTENED_LIMIT.low,
                    limit_value__lte=SOFTENED_LIMIT.high,
                )
                | (
                    ~Q(limit_kind=LimitKind.SOFTENED_SHARE)
                    & Q(limit_value__gte=TEMPERATURE_LIMIT.low, limit_value__lte=TEMPERATURE_LIMIT.high)
                ),
                "A softened share lies between 0.001 and 0.5, a temperature between -40 and -0.5 °C.",
            ),
            *sourced("buyer_limit"),
            *dated("buyer_limit"),
        ]

    def __str__(self):
        return f"{self.buyer}, {self.get_limit_kind_display()}, from {self.valid_from}"
