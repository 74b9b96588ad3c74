from django.db import models
from django.db.models import F, Q

from coop.models.buyers import Buyer
from coop.models.columns import Day, Instant, Link, Numbers, Text
from coop.models.keys import Identified
from coop.models.measures import MONEY_MINOR, Range, money, number, ranges, rule
from coop.models.members import Member
from coop.models.ownership import Owned
from coop.models.routes import Route

GAP = Range(0, 1_000_000)


class Plan(Owned, Identified):
    """Which lot would travel in which carton when: the solver proposes it, a person accepts it."""

    within_cooperative = ("route", "buyer", "asked_by", "accepted_by")

    route = Link(Route, on_delete=models.PROTECT, related_name="plans", verbose_name="route")
    buyer = Link(Buyer, on_delete=models.PROTECT, related_name="plans", verbose_name="buyer")
    first_day = Day("first day")
    last_day = Day("last day")
    asked_by = Link(Member, on_delete=models.PROTECT, related_name="plans_asked", verbose_name="asked by")
    asked_at = Instant("asked at")
    proposal = Numbers("proposal")
    rests_on = Text(
        "rests on", max_length=64, blank=True, help_text="digest of the lots, places and prices it rests on"
    )
    cost_minor = money("cost", "in minor units")
    bound_minor = money("no plan costs less than", "in minor units")
    gap = number("proven gap", GAP, "how far it may be from the best, over the cost: 0.01 is a hundredth")
    accepted_at = Instant("accepted at", null=True, blank=True)
    accepted_by = Link(
        Member,
        on_delete=models.PROTECT,
        related_name="plans_accepted",
        verbose_name="accepted by",
        null=True,
        blank=True,
    )

    class Meta:
        ordering = ("-asked_at", "-id")
        constraints = [
            *ranges("plan", cost_minor=MONEY_MINOR, bound_minor=MONEY_MINOR, gap=GAP),
            rule(
                "plan_last_day_not_before_first",
                Q(last_day__gte=F("first_day")),
                "The last day is not before the first.",
            ),
            rule(
                "plan_accepted_by_somebody",
                Q(accepted_at__isnull=True, accepted_by__isnull=True)
                | Q(accepted_at__isnull=False, accepted_by__isnull=False),
                "A plan is accepted by somebody.",
            ),
        ]

    def __str__(self):
        return f"{self.first_day} to {self.last_day}, {self.route}"
