from django.db import models

from coop.models.columns import Identity, Instant, Link, LongText, Text, Whole
from coop.models.keys import Keyed
from coop.models.members import Member
from coop.models.ownership import Owned


class Write(Owned, Keyed):
    """One thing that a member wrote, by the key that her phone gave it, with the answer that it got."""

    key_fields = ("member__name", "key")
    within_cooperative = ("member",)

    member = Link(Member, on_delete=models.CASCADE, related_name="writes", verbose_name="by")
    key = Identity("key", editable=False)
    fingerprint = Text("digest of method, address and body", max_length=64, editable=False)
    status = Whole("HTTP status", default=0)
    body = LongText("answer", blank=True)
    made_at = Instant("made at", db_index=True)

    class Meta:
        ordering = ("-made_at", "-id")
        constraints = [models.UniqueConstraint(fields=["member", "key"], name="write_once_a_key_of_a_member")]

    def __str__(self):
        return f"{self.key} of {self.member}"
