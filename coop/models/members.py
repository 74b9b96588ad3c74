from django.conf import settings
from django.db import models
from django.db.models import F, Q

from coop.models.columns import Day, OneLink, Text
from coop.models.keys import Keyed
from coop.models.measures import known, rule
from coop.models.ownership import Owned


class Role(models.TextChoices):
    MEMBER = "member", "member: own lots and shares"
    PACKER = "packer", "packer: packs and settles for the cooperative"
    MANAGER = "manager", "manager: members, phones and rules, too"


class Member(Owned, Keyed):
    key_fields = ("cooperative__slug", "name", "phone")

    name = Text("name", max_length=120)
    phone = Text("telephone", max_length=32, blank=True)
    role = Text("role", max_length=8, choices=Role.choices, default=Role.MEMBER)
    joined_on = Day("member since")
    left_on = Day("left on", null=True, blank=True, help_text="who has left enters no more")
    # What tokens and a manager's password hang on; it is made when a phone is first enrolled.
    account = OneLink(
        settings.AUTH_USER_MODEL,
        on_delete=models.PROTECT,
        related_name="member",
        verbose_name="account",
        null=True,
        blank=True,
        editable=False,
    )

    class Meta:
        ordering = ("name", "id")
        constraints = [
            models.UniqueConstraint(
                fields=["cooperative", "name", "phone"],
                name="member_once_in_a_cooperative",
                violation_error_message="This member stands in the list already.",
            ),
            rule(
                "member_leaves_after_joining",
                Q(left_on__isnull=True) | Q(left_on__gte=F("joined_on")),
                "Nobody leaves before the day of joining.",
            ),
            *known("member", role=Role),
        ]

    def __str__(self):
        return self.name
