"""Quotes with what became of them, and how much of the fish that they draw on is left."""

from django.db.models import Case, CharField, F, FloatField, OuterRef, Q, Value, When
from django.db.models.functions import Greatest, Least

from coop.errors import NotFound
from coop.models import Part, Quote, QuoteState, Supply
from coop.selectors.lots import promised_kg, summed

EXPIRED = "expired"
QUOTE_STATES = (*QuoteState.values, EXPIRED)


def quotes_of(cooperative, now):
    """Quotes with all that an answer about them needs, and two columns that lists filter by.

    shown_state is one of QUOTE_STATES at an instant, left_kg what nobody has accepted of the supply; of one
    that is taken from a lot no more than is left of that lot.
    """
    return with_columns(Quote.objects.of(cooperative), now)


def with_columns(quotes, now):
    expired = Q(state=QuoteState.ISSUED, valid_until__lte=now)
    return (
        quotes.select_related(
            "cooperative",
            "supply__member",
            "supply__species",
            "supply__lot",
            "buyer",
            "route__origin",
            "route__destination",
            "timetable__carrier",
            "design",
            "made_by",
            "lot",
            "parcel",
        )
        .prefetch_related("questions")
        .annotate(
            left_kg=Greatest(left_kg(), 0.0, output_field=FloatField()),
            shown_state=Case(
                When(expired, then=Value(EXPIRED)), default=F("state"), output_field=CharField()
            ),
        )
        .order_by("-issued_at", "-pk")
    )


def left_kg():
    """An expression for what is left of the supply of a quote, below 0 where more is gone."""
    cooperative, lot = OuterRef("cooperative"), OuterRef("supply__lot")
    sold = Quote.objects.of(cooperative).filter(supply=OuterRef("supply"), state=QuoteState.ACCEPTED)
    left = F("supply__mass_kg") - summed(sold, "supply", "accepted_kg")
    placed = summed(Part.objects.of(cooperative).filter(lot=lot), "lot", "mass_kg")
    left_of_lot = F("supply__lot__mass_kg") - placed - promised_kg(cooperative, lot)
    return Case(
        When(supply__lot__isnull=True, then=left),
        When(supply__lot__withdrawn_at__isnull=False, then=Value(0.0)),
        default=Least(left, left_of_lot),
        output_field=FloatField(),
    )


def own_quotes(cooperative, member, now):
    """Those that a member made, or that sell her fish."""
    return quotes_of(cooperative, now).filter(Q(supply__member=member) | Q(made_by=member))


def quote_named(cooperative, uuid, now):
    """One quote of a cooperative by its id."""
    found = quotes_of(cooperative, now).filter(uuid=uuid).first()
    if found is None:
        raise NotFound("There is no such quote.")
    return found


def quote_behind(secret_digest, now):
    """The quote that a link opens: whoever holds its secret is told whose it is by it."""
    found = with_columns(Quote.objects.filter(secret_digest=secret_digest), now).first()
    if found is None:
        raise NotFound("There is no such quote, or its link counts no more.")
    return found


def supplies_of(cooperative):
    return Supply.objects.of(cooperative).select_related("member", "species", "lot")


def most_left(quote):
    """The most kilograms that this quote offers and that are still to be had, or None."""
    return max((rung["kg"] for rung in quote.figures["rungs"] if rung["kg"] <= quote.left_kg), default=None)
