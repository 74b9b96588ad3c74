from django.db import models

from coop.models.columns import Instant, Link, Numbers, Text
from coop.models.ownership import OwnedManager, PartOfOwned
from coop.models.phones import PhoneToken


class Kept(PartOfOwned):
    """What one holder of one phone was given under one cursor: digests, and none of its words."""

    owned_through = "token__phone__cooperative"
    key_fields = ("token__digest", "cursor")

    # With the token goes what was given under it: a phone that is put out leaves nothing here.
    token = Link(PhoneToken, on_delete=models.CASCADE, related_name="kept", verbose_name="token")
    cursor = Text("cursor", max_length=64)
    given = Numbers("digests by path", help_text="of each document, and of each of its rows")
    given_at = Instant("given at")

    objects = OwnedManager()

    class Meta:
        ordering = ("-given_at", "-id")
        constraints = [models.UniqueConstraint(fields=["token", "cursor"], name="kept_once_a_cursor")]

    def __str__(self):
        return f"kept on {self.token.phone}"
