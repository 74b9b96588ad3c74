from django.db import models

from coop.models.columns import Day, Link, Numbers, Text, YesNo
from coop.models.cooperatives import SharingRule
from coop.models.measures import (
    MONEY_MINOR,
    SIGNED_MONEY_MINOR,
    Range,
    known,
    money,
    number,
    ranges,
    signed_money,
    whole,
)
from coop.models.members import Member
from coop.models.ownership import PartOfOwned
from coop.models.parcels import PART_KG, Parcel

LINE = Range(1, 10_000)
QUANTITY = Range(0, 10_000_000)


class BillLine(PartOfOwned):
    """One line of what was paid for a parcel; written when it closes, before the shares."""

    owned_through = "parcel__cooperative"
    key_fields = ("parcel__uuid", "position")

    parcel = Link(Parcel, on_delete=models.PROTECT, related_name="bill_lines", verbose_name="parcel")
    position = whole("line", LINE)
    code = Text("code", max_length=32)
    name = Text("name", max_length=160, blank=True)
    amount_minor = signed_money("amount", "in minor units")
    quantity = number("quantity", QUANTITY, null=True)
    unit = Text("unit", max_length=16, blank=True)
    rate_minor = signed_money("rate", "in minor units a unit", null=True)
    priced_on = Day("priced on", null=True, blank=True)

    class Meta:
        ordering = ("parcel", "position")
        verbose_name = "line of a bill"
        verbose_name_plural = "lines of bills"
        constraints = [
            models.UniqueConstraint(fields=["parcel", "position"], name="bill_line_once_in_a_parcel"),
            *ranges(
                "bill_line",
                position=LINE,
                amount_minor=SIGNED_MONEY_MINOR,
                quantity=QUANTITY,
                rate_minor=SIGNED_MONEY_MINOR,
            ),
        ]

    def __str__(self):
        return f"{self.code} {self.name}".strip()


class Share(PartOfOwned):
    """What one member pays of a parcel under one rule; `alone` is the least that it would have cost alone."""

    owned_through = "parcel__cooperative"
    key_fields = ("parcel__uuid", "member__cooperative__slug", "member__name", "member__phone", "rule")

    parcel = Link(Parcel, on_delete=models.PROTECT, related_name="shares", verbose_name="parcel")
    member = Link(Member, on_delete=models.PROTECT, related_name="shares", verbose_name="member")
    rule = Text("rule", max_length=10, choices=SharingRule.choices)
    mass_kg = number("fish (kg)", PART_KG)
    amount_minor = signed_money("share", "in minor units")
    alone_minor = money("alone it would have cost", "in minor units; empty: no safe way alone", null=True)

    class Meta:
        ordering = ("parcel", "rule", "member")
        constraints = [
            models.UniqueConstraint(fields=["parcel", "member", "rule"], name="share_once_by_a_rule"),
            *known("share", rule=SharingRule),
            *ranges("share", mass_kg=PART_KG, amount_minor=SIGNED_MONEY_MINOR, alone_minor=MONEY_MINOR),
        ]

    def __str__(self):
        return f"{self.member} {self.rule} {self.amount_minor}"


class Stability(PartOfOwned):
    """Who would be better off without the others under one rule, and by how much."""

    owned_through = "parcel__cooperative"
    key_fields = ("parcel__uuid", "rule")

    parcel = Link(Parcel, on_delete=models.PROTECT, related_name="stabilities", verbose_name="parcel")
    rule = Text("rule", max_length=10, choices=SharingRule.choices)
    core_is_empty = YesNo("no split is stable", null=True, blank=True, help_text="empty: not known")
    leaves = Numbers("members who would leave together", default=list, blank=True)
    gain_minor = money("what they would gain", "in minor units", default=0)

    class Meta:
        ordering = ("parcel", "rule")
        verbose_name_plural = "stabilities"
        constraints = [
            models.UniqueConstraint(fields=["parcel", "rule"], name="stability_once_by_a_rule"),
            *known("stability", rule=SharingRule),
            *ranges("stability", gain_minor=MONEY_MINOR),
        ]

    def __str__(self):
        return f"{self.parcel} {self.rule}"
