from django.db import models
from django.db.models import Q

from coop.models.claims import Claim
from coop.models.columns import Day, Instant, Link, Text
from coop.models.keys import Identified
from coop.models.lots import NOTE_LENGTH
from coop.models.measures import SIGNED_MONEY_MINOR, known, ranges, rule, signed_money
from coop.models.members import Member
from coop.models.ownership import Owned
from coop.models.parcels import Parcel


class EntryKind(models.TextChoices):
    SHARE = "share", "share of a bill"
    PAYMENT = "payment", "paid in"
    PAYOUT = "payout", "paid out"
    PROCEEDS = "proceeds", "paid by the buyer"
    CLAIM = "claim", "award of a claim"
    CORRECTION = "correction", "correction"


class Entry(Owned, Identified):
    """One line of a member's account; positive is owed. It never changes: a correction is another line."""

    within_cooperative = ("member", "parcel", "claim", "corrects", "written_by")

    member = Link(Member, on_delete=models.PROTECT, related_name="entries", verbose_name="member")
    kind = Text("kind", max_length=10, choices=EntryKind.choices)
    amount_minor = signed_money("amount", "in minor units; positive: the member owes it")
    parcel = Link(
        Parcel,
        on_delete=models.PROTECT,
        related_name="entries",
        verbose_name="parcel",
        null=True,
        blank=True,
    )
    claim = Link(
        Claim, on_delete=models.PROTECT, related_name="entries", verbose_name="claim", null=True, blank=True
    )
    corrects = Link(
        "self",
        on_delete=models.PROTECT,
        related_name="corrections",
        verbose_name="corrects",
        null=True,
        blank=True,
    )
    noted_on = Day("day", help_text="on which it was paid or fell due")
    written_by = Link(
        Member, on_delete=models.PROTECT, related_name="entries_written", verbose_name="written by"
    )
    written_at = Instant("written at")
    note = Text("note", max_length=NOTE_LENGTH, blank=True)

    class Meta:
        ordering = ("-noted_on", "-id")
        verbose_name_plural = "entries"
        constraints = [
            models.UniqueConstraint(fields=["corrects"], name="entry_corrected_once"),
            *known("entry", kind=EntryKind),
            *ranges("entry", amount_minor=SIGNED_MONEY_MINOR),
            rule(
                "entry_has_the_sign_of_its_kind",
                Q(kind__in=(EntryKind.SHARE, EntryKind.CORRECTION))
                | Q(kind=EntryKind.PAYOUT, amount_minor__gt=0)
                | Q(kind=EntryKind.PAYMENT, amount_minor__lt=0)
                | Q(kind__in=(EntryKind.PROCEEDS, EntryKind.CLAIM), amount_minor__lte=0),
                "What was paid in or is hers is negative, what was paid out is positive.",
            ),
            rule(
                "entry_names_what_it_is_about",
                Q(kind__in=(EntryKind.PAYMENT, EntryKind.PAYOUT))
                | Q(kind__in=(EntryKind.SHARE, EntryKind.PROCEEDS), parcel__isnull=False)
                | Q(kind=EntryKind.CLAIM, claim__isnull=False)
                | (Q(kind=EntryKind.CORRECTION) & (Q(corrects__isnull=False) | Q(parcel__isnull=False))),
                "A share names its parcel, an award its claim, a correction what it corrects.",
            ),
            rule(
                "entry_that_corrects_is_a_correction",
                Q(corrects__isnull=True) | Q(kind=EntryKind.CORRECTION),
                "Only a correction corrects another entry.",
            ),
        ]

    def __str__(self):
        return f"{self.member} {self.kind} {self.amount_minor}"
