from django.db import models
from django.db.models import F, Q

from coop.models.buyers import Buyer
from coop.models.columns import Instant, Link, Text, YesNo
from coop.models.keys import Identified
from coop.models.measures import Range, number, ranges, rule
from coop.models.members import Member
from coop.models.ownership import Owned
from coop.models.routes import Route
from coop.models.species import Species

LOT_KG = Range(0.1, 5000)
START_TEMPERATURE = Range(-45, -2.5)
NOTE_LENGTH = 500


class Lot(Owned, Identified):
    """Fish of one member and one species, frozen together, offered to one buyer over one route."""

    within_cooperative = ("member", "route", "buyer", "offered_by")

    member = Link(Member, on_delete=models.PROTECT, related_name="lots", verbose_name="owner")
    route = Link(Route, on_delete=models.PROTECT, related_name="lots", verbose_name="route")
    buyer = Link(Buyer, on_delete=models.PROTECT, related_name="lots", verbose_name="buyer")
    species = Link(Species, on_delete=models.PROTECT, related_name="lots", verbose_name="species")
    mass_kg = number("fish (kg)", LOT_KG, "weighed frozen")
    frozen_since = Instant("frozen since")
    ready_at = Instant("ready at", help_text="when it can be packed, frozen through")
    start_temperature_c = number(
        "temperature when it is packed (°C)", START_TEMPERATURE, "of the warmest piece, in its middle"
    )
    deliver_by = Instant(
        "deliver by", null=True, blank=True, help_text="in the buyer's freezer; empty: no hurry"
    )
    may_be_split = YesNo("may be split", default=False, help_text="over several cartons or departures")
    offered_by = Link(
        Member, on_delete=models.PROTECT, related_name="lots_offered", verbose_name="offered by"
    )
    offered_at = Instant("offered at")
    withdrawn_at = Instant("withdrawn at", null=True, blank=True)
    note = Text("note", max_length=NOTE_LENGTH, blank=True)

    class Meta:
        ordering = ("-offered_at", "-id")
        constraints = [
            *ranges("lot", mass_kg=LOT_KG, start_temperature_c=START_TEMPERATURE),
            rule(
                "lot_ready_after_freezing",
                Q(ready_at__gte=F("frozen_since")),
                "It is not ready before it is frozen.",
            ),
            rule(
                "lot_delivered_after_it_is_ready",
                Q(deliver_by__isnull=True) | Q(deliver_by__gt=F("ready_at")),
                "It is delivered after it is ready.",
            ),
        ]

    def __str__(self):
        return f"{self.mass_kg:g} kg {self.species.code} of {self.member}"
