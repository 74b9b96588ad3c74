from django.db import models
from django.db.models import F, Q

from coop.models.columns import Instant, Link, Text
from coop.models.cooperatives import ClaimsRule
from coop.models.keys import Identified
from coop.models.lots import NOTE_LENGTH
from coop.models.measures import MONEY_MINOR, known, money, ranges, rule
from coop.models.members import Member
from coop.models.ownership import Owned, PartOfOwned
from coop.models.parcels import Parcel


class ClaimKind(models.TextChoices):
    SOFTENED = "softened", "fish that had softened"
    LOST = "lost", "fish that was lost"
    SHORT_PAYMENT = "short_payment", "paid less than was due"
    OTHER = "other", "other"


class Claim(Owned, Identified):
    """A loss on a parcel; sharing it divides what was got back. Awards are written before it is shared."""

    within_cooperative = ("parcel", "raised_by")

    parcel = Link(Parcel, on_delete=models.PROTECT, related_name="claims", verbose_name="parcel")
    kind = Text("what for", max_length=14, choices=ClaimKind.choices)
    raised_by = Link(Member, on_delete=models.PROTECT, related_name="claims_raised", verbose_name="raised by")
    raised_at = Instant("raised at")
    note = Text("note", max_length=NOTE_LENGTH, blank=True)
    estate_minor = money("what was got back", "in minor units", null=True)
    rule = Text("shared by the rule", max_length=14, choices=ClaimsRule.choices, blank=True)
    shared_at = Instant("shared at", null=True, blank=True)
    rejected_at = Instant("rejected at", null=True, blank=True)
    rejected_note = Text("why it was rejected", max_length=NOTE_LENGTH, blank=True)

    class Meta:
        ordering = ("-raised_at", "-id")
        constraints = [
            *known("claim", kind=ClaimKind),
            *ranges("claim", estate_minor=MONEY_MINOR),
            rule(
                "claim_shared_by_a_rule_or_not_yet",
                Q(shared_at__isnull=True, estate_minor__isnull=True, rule="")
                | Q(
                    shared_at__isnull=False,
                    estate_minor__isnull=False,
                    rule__in=ClaimsRule.values,
                    rejected_at__isnull=True,
                ),
                "A claim is shared once, by a rule, unless it was rejected.",
            ),
        ]

    def __str__(self):
        return f"{self.get_kind_display()}, {self.parcel}"


class ClaimPart(PartOfOwned):
    """What one member claims of a loss, and gets."""

    owned_through = "claim__cooperative"
    key_fields = ("claim__uuid", "member__cooperative__slug", "member__name", "member__phone")

    claim = Link(Claim, on_delete=models.PROTECT, related_name="parts", verbose_name="claim")
    member = Link(Member, on_delete=models.PROTECT, related_name="claim_parts", verbose_name="member")
    claimed_minor = money("claims", "in minor units")
    awarded_minor = money("gets", "in minor units", null=True)

    class Meta:
        ordering = ("claim", "member")
        verbose_name = "part of a claim"
        verbose_name_plural = "parts of claims"
        constraints = [
            models.UniqueConstraint(fields=["claim", "member"], name="claim_part_once_a_member"),
            *ranges("claim_part", claimed_minor=MONEY_MINOR, awarded_minor=MONEY_MINOR),
            rule(
                "claim_part_gets_at_most_what_it_claims",
                Q(awarded_minor__isnull=True) | Q(awarded_minor__lte=F("claimed_minor")),
                "Nobody gets more than was claimed.",
            ),
        ]

    def __str__(self):
        return f"{self.member} {self.claimed_minor}"
