from django.db import models

from coop.models.columns import Instant, Link, Text
from coop.models.keys import Identified
from coop.models.members import Member
from coop.models.ownership import Owned


class CalendarLink(Owned, Identified):
    """A secret address under which one member's calendar asks for departures; only its digest is kept."""

    within_cooperative = ("member",)

    member = Link(Member, on_delete=models.PROTECT, related_name="calendar_links", verbose_name="for")
    secret_digest = Text("digest of its secret", max_length=64, unique=True, editable=False)
    created_at = Instant("made at")
    revoked_at = Instant("revoked at", null=True, blank=True)

    class Meta:
        ordering = ("-created_at", "-id")

    def __str__(self):
        return f"calendar of {self.member}"
