from django.db import models
from django.db.models import F, Q

from coop.models.buyers import Buyer
from coop.models.cartons import CartonDesign
from coop.models.columns import Instant, Link, Numbers, Text
from coop.models.cooperatives import Language
from coop.models.keys import Identified
from coop.models.lots import LOT_KG, NOTE_LENGTH, Lot
from coop.models.measures import Range, known, number, ranges, rule
from coop.models.members import Member
from coop.models.ownership import Owned, PartOfOwned
from coop.models.parcels import Parcel
from coop.models.routes import Route
from coop.models.supplies import Supply
from coop.models.timetables import Timetable

PROFIT = Range(0, 10)
MOST_MARGIN = 0.95
NAME_LENGTH = 120


class QuoteState(models.TextChoices):
    ISSUED = "issued", "issued"
    ACCEPTED = "accepted", "accepted"
    DECLINED = "declined", "declined"
    REVOKED = "revoked", "revoked"


class Becomes(models.TextChoices):
    LOT = "lot", "a lot"
    PARCEL = "parcel", "a parcel"


class ProfitKind(models.TextChoices):
    MARK_UP = "mark_up", "mark-up: profit over cost"
    MARGIN = "margin", "margin: profit over price"


ANSWER = ("answered_at", "accepted_kg", "lot", "revoked_at")


def _agrees(state, *filled):
    """A quote in this state has these columns of its answer, and none of the others."""
    return Q(state=state, **{f"{name}__isnull": name not in filled for name in ANSWER})


class Quote(Owned, Identified):
    """What a buyer is asked for fish of a supply on one departure, fixed on the day that it was issued.

    Its links say where things come from; what it promised stands in `figures`, whatever becomes of them. An
    accepted one has its lot, and keeps naming the parcel that was opened for it until that is given up.
    """

    within_cooperative = ("supply", "buyer", "route", "timetable", "design", "made_by", "lot", "parcel")

    supply = Link(Supply, on_delete=models.PROTECT, related_name="quotes", verbose_name="supply")
    buyer = Link(Buyer, on_delete=models.PROTECT, related_name="quotes", verbose_name="buyer")
    route = Link(Route, on_delete=models.PROTECT, related_name="quotes", verbose_name="route")
    timetable = Link(Timetable, on_delete=models.PROTECT, related_name="quotes", verbose_name="timetable")
    design = Link(CartonDesign, on_delete=models.PROTECT, related_name="quotes", verbose_name="carton design")
    departs_at = Instant("planned to leave at")
    becomes = Text("becomes", max_length=6, choices=Becomes.choices, help_text="once it is accepted")
    made_by = Link(Member, on_delete=models.PROTECT, related_name="quotes_made", verbose_name="made by")
    issued_at = Instant("issued at")
    valid_until = Instant("valid until", help_text="from then on it cannot be accepted")
    language = Text("language of the buyer", max_length=2, choices=Language.choices)
    profit_kind = Text("profit is a", max_length=7, choices=ProfitKind.choices)
    profit_share = number("profit", PROFIT, "0.25 is a quarter: of the cost, or of the price")
    least_kg = number("from (kg)", LOT_KG)
    most_kg = number("to (kg)", LOT_KG)
    figures = Numbers("figures", editable=False)
    state = Text("state", max_length=8, choices=QuoteState.choices, default=QuoteState.ISSUED)
    secret_digest = Text("digest of its link", max_length=64, unique=True, editable=False)
    answered_at = Instant("answered at", null=True, blank=True)
    accepted_kg = number("accepted (kg)", LOT_KG, null=True)
    answered_by_name = Text("answered by", max_length=NAME_LENGTH, blank=True)
    note = Text("note of the buyer", max_length=NOTE_LENGTH, blank=True)
    lot = Link(
        Lot, on_delete=models.PROTECT, related_name="quotes", verbose_name="lot", null=True, blank=True
    )
    parcel = Link(
        Parcel, on_delete=models.SET_NULL, related_name="quotes", verbose_name="parcel", null=True, blank=True
    )
    revoked_at = Instant("revoked at", null=True, blank=True)

    class Meta:
        ordering = ("-issued_at", "-id")
        constraints = [
            *known("quote", state=QuoteState, becomes=Becomes, profit_kind=ProfitKind, language=Language),
            *ranges("quote", profit_share=PROFIT, least_kg=LOT_KG, most_kg=LOT_KG, accepted_kg=LOT_KG),
            rule(
                "quote_margin_is_below_the_price",
                ~Q(profit_kind=ProfitKind.MARGIN) | Q(profit_share__lte=MOST_MARGIN),
                "A margin is less than the whole price.",
            ),
            rule("quote_begins_with_the_least", Q(least_kg__lte=F("most_kg")), "It begins with the least."),
            rule(
                "quote_counts_for_a_while",
                Q(valid_until__gt=F("issued_at"), valid_until__lte=F("departs_at")),
                "It is valid for some time, and not after it leaves.",
            ),
            rule(
                "quote_state_agrees_with_its_answer",
                _agrees(QuoteState.ISSUED)
                | _agrees(QuoteState.REVOKED, "revoked_at")
                | _agrees(QuoteState.DECLINED, "answered_at")
                | _agrees(QuoteState.ACCEPTED, "answered_at", "accepted_kg", "lot"),
                "The state of a quote agrees with how it was answered.",
            ),
            rule(
                "quote_accepted_while_it_was_valid",
                ~Q(state=QuoteState.ACCEPTED)
                | Q(
                    answered_at__gte=F("issued_at"),
                    answered_at__lt=F("valid_until"),
                    accepted_kg__gte=F("least_kg"),
                    accepted_kg__lte=F("most_kg"),
                ),
                "It is accepted while it is valid, and for as many kilograms as it offers.",
            ),
            rule(
                "quote_parcel_of_an_accepted_one",
                Q(parcel__isnull=True) | Q(state=QuoteState.ACCEPTED, becomes=Becomes.PARCEL),
                "Only an accepted quote that was to become one has a parcel.",
            ),
        ]

    def __str__(self):
        # Its address is a secret, and no part of it stands here.
        return f"quote of {self.issued_at:%Y-%m-%d} to {self.buyer}"


class QuoteQuestion(PartOfOwned):
    """What a buyer asked about a quote."""

    owned_through = "quote__cooperative"
    key_fields = ("quote__uuid", "asked_at")

    quote = Link(Quote, on_delete=models.CASCADE, related_name="questions", verbose_name="quote")
    asked_at = Instant("asked at")
    name = Text("asked by", max_length=NAME_LENGTH, blank=True)
    text = Text("question", max_length=NOTE_LENGTH)

    class Meta:
        ordering = ("quote", "asked_at", "id")
        verbose_name = "question about a quote"
        verbose_name_plural = "questions about a quote"
        constraints = [
            models.UniqueConstraint(fields=["quote", "asked_at"], name="quote_question_once_at_a_time"),
            rule("quote_question_says_something", ~Q(text=""), "A question says something."),
        ]

    def __str__(self):
        return f"question about {self.quote}"
