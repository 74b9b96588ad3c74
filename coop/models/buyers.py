from django.db import models
from django.db.models import F, Q

from coop.models.carriers import WaitsIn
from coop.models.columns import Hour, Link, Slug, Text
from coop.models.figures import Figured, sourced
from coop.models.keys import Keyed
from coop.models.measures import VARIATION, Range, known, number, ranges, rule, whole
from coop.models.ownership import Owned, PartOfOwned
from coop.models.places import Place
from coop.models.spans import Span

STRETCH_HOURS = Range(0, 48)
WEEKDAY = Range(0, 6)


class Buyer(Owned, Figured, Keyed):
    key_fields = ("cooperative__slug", "slug")

    slug = Slug("short name")
    name = Text("name", max_length=120)
    place = Link(Place, on_delete=models.PROTECT, related_name="buyers", verbose_name="place")
    last_stretch_hours_mean = number(
        "hours from the last stop to the freezer, mean", STRETCH_HOURS, "unloading, local transport"
    )
    last_stretch_hours_cv = number("variation of it", VARIATION, "standard deviation over mean")
    waits_in = Text("the carton waits there in the", max_length=8, choices=WaitsIn.choices)

    class Meta:
        ordering = ("name", "id")
        constraints = [
            models.UniqueConstraint(fields=["cooperative", "slug"], name="buyer_slug_once_in_a_cooperative"),
            *known("buyer", waits_in=WaitsIn),
            *ranges("buyer", last_stretch_hours_mean=STRETCH_HOURS, last_stretch_hours_cv=VARIATION),
            *sourced("buyer"),
        ]

    def __str__(self):
        return self.name


class Weekday(models.IntegerChoices):
    MONDAY = 0, "Monday"
    TUESDAY = 1, "Tuesday"
    WEDNESDAY = 2, "Wednesday"
    THURSDAY = 3, "Thursday"
    FRIDAY = 4, "Friday"
    SATURDAY = 5, "Saturday"
    SUNDAY = 6, "Sunday"


class ReceivingHours(PartOfOwned, Span):
    """When somebody is there to put the fish into the freezer."""

    owned_through = "buyer__cooperative"
    key_fields = ("buyer__cooperative__slug", "buyer__slug", "weekday", "opens_at")
    alike = ("buyer", "weekday")
    span = ("opens_at", "closes_at")

    buyer = Link(Buyer, on_delete=models.CASCADE, related_name="receiving_hours", verbose_name="buyer")
    weekday = whole("day", WEEKDAY, choices=Weekday.choices)
    opens_at = Hour("opens at", help_text="local time")
    closes_at = Hour("closes at", help_text="local time, the same day")

    class Meta:
        ordering = ("buyer", "weekday", "opens_at")
        verbose_name = "receiving hours"
        verbose_name_plural = "receiving hours"
        constraints = [
            *ranges("receiving_hours", weekday=WEEKDAY),
            rule(
                "receiving_hours_close_after_opening",
                Q(closes_at__gt=F("opens_at")),
                "It closes after it opens, on the same day.",
            ),
        ]

    def __str__(self):
        return f"{self.get_weekday_display()} {str(self.opens_at)[:5]}–{str(self.closes_at)[:5]}"
