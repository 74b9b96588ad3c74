from django.db import models
from django.db.models import F, Q
from django.db.models.functions import Greatest, Least

from coop.models.columns import Link
from coop.models.keys import Keyed
from coop.models.measures import rule
from coop.models.ownership import Owned
from coop.models.species import Species


class Separation(Owned, Keyed):
    """Two species that may not share a carton; which of them is named first says nothing."""

    key_fields = ("cooperative__slug", "one__code", "other__code")

    one = Link(Species, on_delete=models.PROTECT, related_name="+", verbose_name="one species")
    other = Link(Species, on_delete=models.PROTECT, related_name="+", verbose_name="the other species")

    class Meta:
        ordering = ("one", "other")
        verbose_name = "species kept apart"
        verbose_name_plural = "species kept apart"
        constraints = [
            models.UniqueConstraint(
                "cooperative",
                Least("one", "other"),
                Greatest("one", "other"),
                name="separation_once_in_a_cooperative",
                violation_error_message="These two are kept apart already.",
            ),
            rule("separation_of_two_species", ~Q(one=F("other")), "Name two species."),
        ]

    def __str__(self):
        return f"{self.one} and {self.other}"

    @property
    def pair(self):
        return frozenset((self.one_id, self.other_id))
