"""What counts from one day until another: fares, prices, timetables."""

from django.db import models
from django.db.models import F, Q

from coop.models.columns import Day
from coop.models.measures import rule
from coop.models.ownership import OwnedManager
from coop.models.spans import Span, begins_before


class DatedQuerySet(models.QuerySet):
    def on(self, day):
        """What counts on `day`: the first day counts, the last named one no longer does."""
        return self.filter(Q(valid_until__isnull=True) | Q(valid_until__gt=day), valid_from__lte=day)

    def counting_from(self, day):
        """What counts on `day` or comes later: all that is not over by then."""
        return self.filter(Q(valid_until__isnull=True) | Q(valid_until__gt=day))


class Dated(Span):
    """Stands before Owned among the bases of a model, for its manager knows more."""

    span = ("valid_from", "valid_until")

    valid_from = Day("counts from", help_text="the first day on which it counts")
    valid_until = Day(
        "counts until",
        null=True,
        blank=True,
        help_text="the first day on which it no longer counts; empty while it goes on",
    )

    objects = OwnedManager.from_queryset(DatedQuerySet)()

    class Meta:
        abstract = True

    def counts_on(self, day):
        return self.valid_from <= day and begins_before(day, self.valid_until)


def dated(table):
    return [
        rule(
            f"{table}_ends_after_it_begins",
            Q(valid_until__isnull=True) | Q(valid_until__gt=F("valid_from")),
            "It must end after it begins.",
        )
    ]
