from collections.abc import Iterable
from datetime import date, datetime, time

from django.db import transaction

from coop.errors import invalid
from coop.models import Carrier, Member, Route, Timetable
from coop.models.timetables import WEEKDAYS
from coop.services.changes import Wanted, change, pen_of
from coop.services.roles import require_own


@transaction.atomic
def change_timetable(
    *,
    by: Member,
    carrier: Carrier,
    route: Route,
    departs_at_local: time,
    valid_from: date,
    weekdays: Iterable[int],
    delay_hours_mean: float,
    delay_hours_cv: float,
    leaves_when_full: bool = False,
    seats_left: int | None = None,
    riders_per_hour: float | None = None,
    valid_until: date | None = None,
    confirmed_on: date | None = None,
    note: str = "",
    now: datetime | None = None,
) -> Timetable:
    """On which days, 0 is Monday, a carrier leaves at one hour of a route from a day on, and how late.

    A parcel stays on the row that it was opened with; its departure is known by carrier, route and hour.
    """
    pen = pen_of(by, "change a timetable", note, now)
    require_own(by, carrier, route)
    days = set(weekdays)
    if not days <= set(range(len(WEEKDAYS))):
        raise invalid("weekdays", sorted(days), "names days that there are not", "0, Monday, to 6, Sunday")
    return change(
        pen,
        Wanted(
            model=Timetable,
            alike={"carrier": carrier, "route": route, "departs_at_local": departs_at_local},
            figures={
                **{name: number in days for number, name in enumerate(WEEKDAYS)},
                "delay_hours_mean": delay_hours_mean,
                "delay_hours_cv": delay_hours_cv,
                "leaves_when_full": leaves_when_full,
                "seats_left": seats_left,
                "riders_per_hour": riders_per_hour,
            },
            valid_from=valid_from,
            valid_until=valid_until,
            confirmed_on=confirmed_on,
        ),
    )
