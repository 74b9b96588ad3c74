from datetime import date, datetime

from django.db import transaction

from coop.models import FishPrice, Member, Species
from coop.services.changes import Wanted, change, pen_of


@transaction.atomic
def change_fish_price(
    *,
    by: Member,
    species: Species,
    valid_from: date,
    bought_minor_per_kg: int,
    sold_minor_per_kg: int,
    soft_minor_per_kg: int,
    valid_until: date | None = None,
    confirmed_on: date | None = None,
    note: str = "",
    now: datetime | None = None,
) -> FishPrice:
    """What a kilogram of a species costs and fetches from a day on, in minor units."""
    pen = pen_of(by, "change a price", note, now)
    return change(
        pen,
        Wanted(
            model=FishPrice,
            alike={"cooperative": pen.cooperative, "species": species},
            figures={
                "bought_minor_per_kg": bought_minor_per_kg,
                "sold_minor_per_kg": sold_minor_per_kg,
                "soft_minor_per_kg": soft_minor_per_kg,
            },
            valid_from=valid_from,
            valid_until=valid_until,
            confirmed_on=confirmed_on,
        ),
    )
