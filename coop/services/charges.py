from datetime import date, datetime

from django.db import transaction

from coop.models import Buyer, Charge, Member, Route
from coop.services.changes import Wanted, change, pen_of
from coop.services.roles import require_own


@transaction.atomic
def change_charge(
    *,
    by: Member,
    kind: str,
    name: str,
    basis: str,
    amount_minor: int,
    valid_from: date,
    route: Route | None = None,
    buyer: Buyer | None = None,
    valid_until: date | None = None,
    confirmed_on: date | None = None,
    note: str = "",
    now: datetime | None = None,
) -> Charge:
    """What is paid from a day on besides fare and materials: everywhere, on one route, or for one buyer."""
    pen = pen_of(by, "change a charge", note, now)
    require_own(by, *(row for row in (route, buyer) if row))
    return change(
        pen,
        Wanted(
            model=Charge,
            alike={
                "cooperative": pen.cooperative, "route": route, "buyer": buyer, "kind": kind, "name": name
            },
            figures={"basis": basis, "amount_minor": amount_minor},
            valid_from=valid_from,
            valid_until=valid_until,
            confirmed_on=confirmed_on,
        ),
    )  # fmt: skip
