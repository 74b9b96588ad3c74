from datetime import date, datetime

from django.db import transaction

from coop.models import Material, MaterialPrice, Member
from coop.services.changes import Wanted, change, pen_of
from coop.services.roles import require_own


@transaction.atomic
def change_material_price(
    *,
    by: Member,
    material: Material,
    valid_from: date,
    amount_minor: int,
    valid_until: date | None = None,
    confirmed_on: date | None = None,
    note: str = "",
    now: datetime | None = None,
) -> MaterialPrice:
    """What one piece, kilogram, metre or sack of a material costs from a day on, in minor units."""
    pen = pen_of(by, "change a price", note, now)
    require_own(by, material)
    return change(
        pen,
        Wanted(
            model=MaterialPrice,
            alike={"material": material},
            figures={"amount_minor": amount_minor},
            valid_from=valid_from,
            valid_until=valid_until,
            confirmed_on=confirmed_on,
        ),
    )
