from django.db import models
from django.db.models import F, Q

from coop.models.columns import Instant, Link
from coop.models.keys import Identified
from coop.models.lots import LOT_KG, START_TEMPERATURE, Lot
from coop.models.measures import number, ranges, rule
from coop.models.members import Member
from coop.models.ownership import Owned
from coop.models.species import Species


class Supply(Owned, Identified):
    """Fish of one member that quotes draw on: who accepts first is served first. It never changes.

    Taken from a lot it is a copy of that lot as it was quoted; what is accepted of it is promised of the lot.
    """

    within_cooperative = ("member", "entered_by", "lot")

    member = Link(Member, on_delete=models.PROTECT, related_name="supplies", verbose_name="owner")
    species = Link(Species, on_delete=models.PROTECT, related_name="supplies", verbose_name="species")
    mass_kg = number("fish (kg)", LOT_KG, "all that the quotes together may sell")
    frozen_since = Instant("frozen since")
    ready_at = Instant("ready at", help_text="when it can be packed, frozen through")
    start_temperature_c = number(
        "temperature when it is packed (°C)", START_TEMPERATURE, "of the warmest piece, in its middle"
    )
    entered_by = Link(
        Member, on_delete=models.PROTECT, related_name="supplies_entered", verbose_name="entered by"
    )
    entered_at = Instant("entered at")

    lot = Link(
        Lot,
        on_delete=models.PROTECT,
        related_name="supplies",
        verbose_name="lot",
        null=True,
        blank=True,
        help_text="from which it is taken; empty: fish that is no lot yet",
    )

    class Meta:
        ordering = ("-entered_at", "-id")
        verbose_name_plural = "supplies"
        constraints = [
            *ranges("supply", mass_kg=LOT_KG, start_temperature_c=START_TEMPERATURE),
            rule(
                "supply_ready_after_freezing",
                Q(ready_at__gte=F("frozen_since")),
                "It is not ready before it is frozen.",
            ),
        ]

    def __str__(self):
        return f"{self.mass_kg:g} kg {self.species.code} of {self.member}"
