"""Phones, who holds them, and the one-time codes by which a phone is enrolled."""

from django.core.exceptions import ValidationError
from django.db import models
from django.db.models import F, Q
from knox.models import AbstractAuthToken, AuthTokenManager

from coop.models.columns import Instant, Link, Text
from coop.models.keys import Identified, Keyed
from coop.models.measures import rule
from coop.models.members import Member
from coop.models.ownership import Owned, OwnedManager


class Phone(Owned, Identified):
    """One device; several people may hold it, each with a token of her own."""

    name = Text("name", max_length=60, help_text="what people call it: Anna's phone, the one at the landing")
    enrolled_at = Instant("enrolled at")
    revoked_at = Instant("revoked at", null=True, blank=True)

    class Meta:
        ordering = ("name", "id")

    def __str__(self):
        return self.name


class EnrolmentCode(Owned, Keyed):
    """A code that enrols one member on one phone, once. Only its digest is stored."""

    key_fields = ("digest",)
    within_cooperative = ("member", "issued_by", "phone")

    member = Link(Member, on_delete=models.PROTECT, related_name="enrolment_codes", verbose_name="for")
    digest = Text("digest", max_length=64, unique=True, editable=False)
    issued_by = Link(
        Member,
        on_delete=models.PROTECT,
        related_name="issued_codes",
        verbose_name="issued by",
        null=True,
        blank=True,
        help_text="empty: by whoever keeps the server, or by the demonstration",
    )
    issued_at = Instant("issued at")
    expires_at = Instant("counts until")
    used_at = Instant("used at", null=True, blank=True)
    phone = Link(
        Phone,
        on_delete=models.PROTECT,
        related_name="enrolment_codes",
        verbose_name="used on",
        null=True,
        blank=True,
    )

    class Meta:
        ordering = ("expires_at", "id")
        constraints = [
            rule(
                "enrolment_code_counts_for_a_while",
                Q(expires_at__gt=F("issued_at")),
                "A code counts for some time.",
            ),
            rule(
                "enrolment_code_was_used_on_a_phone",
                Q(used_at__isnull=True, phone__isnull=True) | Q(used_at__isnull=False, phone__isnull=False),
                "A used code names its phone.",
            ),
        ]

    def __str__(self):
        return f"code for {self.member}"


class PhoneTokens(AuthTokenManager, OwnedManager):
    pass


class PhoneToken(AbstractAuthToken):
    """What lets one holder of one phone in: random, expiring, stored as its digest only."""

    owned_through = "phone__cooperative"

    phone = Link(Phone, on_delete=models.CASCADE, related_name="tokens", verbose_name="phone")

    objects = PhoneTokens()

    class Meta:
        constraints = [models.UniqueConstraint(fields=["phone", "user"], name="phone_token_once_a_holder")]

    def __str__(self):
        # The digest is no secret, but nothing that a log needs either.
        return f"token on {self.phone}"

    def clean(self):
        super().clean()
        if self.user.member.cooperative_id != self.phone.cooperative_id:
            raise ValidationError("the phone belongs to another cooperative", code="other_cooperative")
