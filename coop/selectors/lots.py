"""Lots with what became of them: how much lies in cartons or is promised, how far it has come."""

from django.db.models import (
    Case,
    CharField,
    F,
    FloatField,
    Min,
    OuterRef,
    Prefetch,
    Q,
    Subquery,
    Sum,
    Value,
    When,
)
from django.db.models.functions import Coalesce, Greatest

from coop.errors import NotFound
from coop.models import Lot, ParcelState, Part, Quote, QuoteState

LEAST_KG = 0.0005
"""Less than half a gram is no fish, but what is left of adding up floats."""
OFFERED, PARTLY_PLACED, PLACED, WITHDRAWN = "offered", "partly_placed", "placed", "withdrawn"
PROMISED = "promised"
"""None of it lies in a carton and nothing is left: buyers have accepted all of it."""
# In an open carton; in a closed one; and then as far as its parcel has come. Fish that lies in the freezer
# again waits to be seen to: of what travels no more that is told first.
STAGES = (
    PLACED,
    ParcelState.CLOSED.value,
    ParcelState.DEPARTED.value,
    ParcelState.CALLED_OFF.value,
    ParcelState.HANDED_OVER.value,
    ParcelState.SETTLED.value,
)
LOT_STATES = (OFFERED, PARTLY_PLACED, PROMISED, *STAGES, WITHDRAWN)


def lots_of(cooperative):
    """Lots with their owner, route, buyer, species and parcels, and four columns that lists filter by.

    placed_kg lies in cartons, promised_kg was accepted by quotes made from it and is a lot of its own by now,
    left_kg is neither and waits for a carton, state is one of LOT_STATES.
    """
    parts = Part.objects.of(cooperative).select_related("carton__parcel").order_by("carton__parcel", "carton")
    found = Lot.objects.of(cooperative).select_related("member", "route", "buyer", "species", "offered_by")
    # A list that is summed up by the database has no order but the one that is said.
    return with_states(found).prefetch_related(Prefetch("parts", parts)).order_by("-offered_at", "-pk")


def with_states(lots):
    placed = Coalesce(Sum("parts__mass_kg"), 0.0, output_field=FloatField())
    promised = promised_kg(OuterRef("cooperative"), OuterRef("pk"))
    lots = lots.annotate(placed_kg=placed, promised_kg=promised, stage=Min(stage_of_a_part()))
    left = Case(
        When(withdrawn_at__isnull=False, then=Value(0.0)),
        default=Greatest(F("mass_kg") - F("placed_kg") - F("promised_kg"), 0.0),
        output_field=FloatField(),
    )
    return lots.annotate(left_kg=left, state=state_of_a_lot())


def promised_kg(cooperative, lot):
    """An expression for what buyers have accepted of a lot."""
    accepted = Quote.objects.of(cooperative).filter(supply__lot=lot, state=QuoteState.ACCEPTED)
    return summed(accepted, "supply__lot", "accepted_kg")


def summed(rows, by, column):
    """An expression for the sum of a column over rows that agree in `by`, 0 where there are none."""
    total = rows.order_by().values(by).annotate(kg=Sum(column)).values("kg")
    return Coalesce(Subquery(total), 0.0, output_field=FloatField())


def stage_of_a_part():
    """How far a part has come, as a place in STAGES; nothing for a lot without parts."""
    beyond = {
        state: number for number, state in enumerate(STAGES) if state not in (PLACED, ParcelState.CLOSED)
    }
    return Case(
        *(When(parts__carton__parcel__state=state, then=Value(number)) for state, number in beyond.items()),
        When(parts__carton__closed_at__isnull=False, then=Value(STAGES.index(ParcelState.CLOSED))),
        When(parts__isnull=False, then=Value(STAGES.index(PLACED))),
    )


def state_of_a_lot():
    waits = Q(withdrawn_at__isnull=True, placed_kg__lt=F("mass_kg") - F("promised_kg") - LEAST_KG)
    return Case(
        When(stage__isnull=True, withdrawn_at__isnull=False, then=Value(WITHDRAWN)),
        When(waits, stage__isnull=True, then=Value(OFFERED)),
        When(stage__isnull=True, then=Value(PROMISED)),
        When(waits, then=Value(PARTLY_PLACED)),
        *(When(stage=number, then=Value(state)) for number, state in enumerate(STAGES)),
        output_field=CharField(),
    )


def waiting_lots(cooperative, route, buyer):
    """Lots of one way with something left to place, the one that is ready first first."""
    found = lots_of(cooperative).filter(route=route, buyer=buyer, state__in=(OFFERED, PARTLY_PLACED))
    return found.order_by("ready_at", "pk")


def lot_named(cooperative, uuid):
    """One lot of a cooperative by its id."""
    found = lots_of(cooperative).filter(uuid=uuid).first()
    if found is None:
        raise NotFound("There is no such lot.")
    return found
