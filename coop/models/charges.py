from django.db import models

from coop.models.buyers import Buyer
from coop.models.columns import Day, Link, Text
from coop.models.figures import Figured, sourced
from coop.models.history import History
from coop.models.measures import MONEY_MINOR, known, money, ranges
from coop.models.ownership import Owned
from coop.models.routes import Route
from coop.models.validity import Dated, dated


class ChargeKind(models.TextChoices):
    HANDLING = "handling", "handling"
    LEVY = "levy", "levy"
    PAPERS = "papers", "papers"
    RECEIVER = "receiver", "taken by the receiver"
    FREEZING_ENERGY = "freezing_energy", "freezing in somebody else's freezer"


class ChargeBasis(models.TextChoices):
    CONSIGNMENT = "consignment", "for each consignment"
    CARTON = "carton", "for each carton"
    KILOGRAM = "kilogram", "for each kilogram"


class Charge(Dated, Owned, Figured):
    """What is paid besides fare and materials: everywhere, on one route, or for one buyer."""

    key_fields = ("cooperative__slug", "route__slug", "buyer__slug", "kind", "name", "valid_from")
    alike = ("cooperative", "route", "buyer", "kind", "name")
    within_cooperative = ("route", "buyer")

    route = Link(
        Route,
        on_delete=models.PROTECT,
        related_name="charges",
        verbose_name="route",
        null=True,
        blank=True,
        help_text="empty: on every route",
    )
    buyer = Link(
        Buyer,
        on_delete=models.PROTECT,
        related_name="charges",
        verbose_name="buyer",
        null=True,
        blank=True,
        help_text="empty: for every buyer",
    )
    kind = Text("kind", max_length=16, choices=ChargeKind.choices)
    name = Text("name", max_length=120)
    basis = Text("paid", max_length=12, choices=ChargeBasis.choices)
    amount_minor = money("amount", "in minor units (ngwee)")
    confirmed_on = Day("last confirmed on", help_text="when somebody last asked")

    history = History()

    class Meta:
        ordering = ("kind", "name", "-valid_from", "id")
        constraints = [
            *known("charge", kind=ChargeKind, basis=ChargeBasis),
            *ranges("charge", amount_minor=MONEY_MINOR),
            *sourced("charge"),
            *dated("charge"),
        ]

    def __str__(self):
        return f"{self.name}, from {self.valid_from}"

    def natural_key(self):
        route, buyer = (other and other.slug for other in (self.route, self.buyer))
        return (self.cooperative.slug, route, buyer, self.kind, self.name, self.valid_from)
