from datetime import date, datetime

from django.db import transaction

from coop.models import Buyer, BuyerLimit, Member
from coop.services.changes import Wanted, change, pen_of
from coop.services.roles import require_own


@transaction.atomic
def change_buyer_limit(
    *,
    by: Member,
    buyer: Buyer,
    valid_from: date,
    limit_kind: str,
    limit_value: float,
    valid_until: date | None = None,
    note: str = "",
    now: datetime | None = None,
) -> BuyerLimit:
    """What a buyer accepts of fish that leaves from a day on: a share that softened, or a temperature °C."""
    pen = pen_of(by, "change a limit", note, now)
    require_own(by, buyer)
    return change(
        pen,
        Wanted(
            model=BuyerLimit,
            alike={"buyer": buyer},
            figures={"limit_kind": limit_kind, "limit_value": limit_value},
            valid_from=valid_from,
            valid_until=valid_until,
        ),
    )
