from datetime import date, datetime

from django.db import transaction

from coop.errors import invalid
from coop.models import Member, Terms
from coop.services.changes import Wanted, change, pen_of

FIGURES = (
    "confidence",
    "softened_share_limit",
    "closing_lead_minutes",
    "electricity_price_minor_per_kwh",
    "freezing_kwh_per_kg",
    "labour_price_minor_per_hour",
    "packing_minutes_per_carton",
    "stale_after_days",
)


@transaction.atomic
def change_terms(
    *,
    by: Member,
    valid_from: date,
    valid_until: date | None = None,
    confirmed_on: date | None = None,
    note: str = "",
    now: datetime | None = None,
    **figures,
) -> Terms:
    """The terms of the cooperative from a day on; figures that are not named stay as they are on that day."""
    pen = pen_of(by, "change the terms", note, now)
    unknown = set(figures) - set(FIGURES)
    if unknown:
        raise TypeError(f"change_terms() changes no {', '.join(sorted(unknown))}")
    counting = Terms.objects.of(pen.cooperative).on(valid_from).first()
    missing = [] if counting else [name for name in FIGURES if name not in figures]
    if missing:
        raise invalid(missing[0], None, "is not said, and no terms count before", "a value for every figure")
    kept = {name: getattr(counting, name) for name in FIGURES} if counting else {}
    return change(
        pen,
        Wanted(
            model=Terms,
            alike={"cooperative": pen.cooperative},
            figures=kept | figures,
            valid_from=valid_from,
            valid_until=valid_until,
            confirmed_on=confirmed_on,
        ),
    )
