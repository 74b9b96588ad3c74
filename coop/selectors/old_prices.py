"""Figures that nobody has confirmed for longer than the cooperative's terms allow."""

from dataclasses import dataclass
from datetime import date, timedelta

from django.db.models import Q

from coop.models import Terms
from coop.models.terms import STALE_DAYS
from coop.selectors.subjects import SUBJECTS, Subject


@dataclass(frozen=True)
class OldPrice:
    """days since it was confirmed; a timetable that nobody confirmed yet has neither."""

    subject: Subject
    row: object
    confirmed_on: date | None
    days: int | None


def old_before(cooperative, today) -> date:
    """What was confirmed before this day is old."""
    terms = Terms.objects.of(cooperative).on(today).first()
    return today - timedelta(days=terms.stale_after_days if terms else STALE_DAYS.high)


def is_old(confirmed_on, before) -> bool:
    """Whether a price that was confirmed on a day is old; what has no such day is none."""
    return confirmed_on is not None and confirmed_on < before


def old_prices_of(cooperative, today) -> list[OldPrice]:
    """Of all that counts now or later, the longest unconfirmed first."""
    before, found = old_before(cooperative, today), []
    old = Q(confirmed_on__isnull=True) | Q(confirmed_on__lt=before)
    goes_on = Q(valid_until__isnull=True) | Q(valid_until__gt=today)
    for subject in SUBJECTS.values():
        if subject.is_confirmed:
            rows = subject.model.objects.of(cooperative).filter(old, goes_on)
            rows = rows.select_related(*subject.beside).order_by("pk")
            found += [_old(subject, row, today) for row in rows]
    return sorted(found, key=lambda one: one.confirmed_on or date.min)


def old_lines(cost, before) -> int:
    """How many lines of a bill rest on an old price."""
    return sum(is_old(line.priced_on, before) for line in cost.lines)


def _old(subject, row, today):
    confirmed = row.confirmed_on
    return OldPrice(subject, row, confirmed, confirmed and (today - confirmed).days)
