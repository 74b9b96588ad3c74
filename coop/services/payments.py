"""Money that a member pays in or is paid out, and what undoes a line that was wrong."""

from django.db import transaction
from django.utils import timezone

from coop.errors import Conflict, Problem, invalid
from coop.models import Entry, EntryKind
from coop.models.measures import MONEY_MINOR
from coop.selectors.payments import local_today
from coop.services.locking import lock
from coop.services.roles import require_own, require_packer
from coop.services.writing import first_answer, identified, written

KINDS = {"in": EntryKind.PAYMENT, "out": EntryKind.PAYOUT}
SIGNS = {"in": -1, "out": 1}
UNDONE = (EntryKind.PAYMENT, EntryKind.PAYOUT, EntryKind.PROCEEDS, EntryKind.CLAIM)
"""A share stands as long as the bill does: a later cost is spread over all by `correct_bill`."""


@transaction.atomic
def record_payment(*, by, member, amount_minor, direction, paid_on, note="", uuid=None, at=None) -> Entry:
    """What a member paid in, or was paid out. More than she owes is a credit that her balance shows."""
    require_packer(by, "record a payment")
    require_own(by, member)
    lock(by.cooperative)
    at = at or timezone.now()
    kind, amount = _kind_and_amount(direction, amount_minor)
    _require_past("paid_on", paid_on, local_today(by.cooperative, at))
    same = {"member_id": member.pk, "kind": kind, "amount_minor": amount, "written_by_id": by.pk}
    if found := first_answer(Entry.objects.of(by.cooperative), uuid, **same):
        return found
    return written(
        Entry(
            **identified(uuid),
            cooperative=by.cooperative,
            member=member,
            kind=kind,
            amount_minor=amount,
            noted_on=paid_on,
            written_by=by,
            written_at=at,
            note=note,
        )
    )


@transaction.atomic
def correct_entry(*, by, entry, note, uuid=None, at=None) -> Entry:
    """Takes a line back by one of the opposite amount that names it; the right one is then recorded anew."""
    require_packer(by, "correct a payment")
    require_own(by, entry)
    lock(by.cooperative)
    if found := first_answer(
        Entry.objects.of(by.cooperative), uuid, corrects_id=entry.pk, written_by_id=by.pk
    ):
        return found
    _require_undoable(entry, note)
    at = at or timezone.now()
    return written(
        Entry(
            **identified(uuid),
            cooperative=by.cooperative,
            member=entry.member,
            kind=EntryKind.CORRECTION,
            amount_minor=-entry.amount_minor,
            parcel=entry.parcel,
            claim=entry.claim,
            corrects=entry,
            noted_on=local_today(by.cooperative, at),
            written_by=by,
            written_at=at,
            note=note,
        )
    )


def _kind_and_amount(direction, amount_minor):
    if direction not in KINDS:
        raise invalid("direction", direction, "is no direction", "in or out")
    most = int(MONEY_MINOR.high)
    if type(amount_minor) is not int or not 1 <= amount_minor <= most:
        right = f"a whole number of minor units, 1 to {most}"
        raise invalid("amount_minor", amount_minor, "is no amount that can be paid", right)
    return KINDS[direction], SIGNS[direction] * amount_minor


def _require_past(field, day, today):
    if day > today:
        raise invalid(field, day.isoformat(), "has not come yet", f"today, {today}, or a day before")


def _require_undoable(entry, note):
    if entry.kind not in UNDONE:
        words = f"is a {entry.get_kind_display()}, which is not taken back"
        right = "a payment, a payout, proceeds or an award; a bill is corrected at its parcel"
        raise invalid("entry", str(entry.uuid), words, right)
    if not note.strip():
        raise invalid("note", note, "does not say why", "why the line was wrong")
    if entry.corrections.exists():
        wrong = Problem("entry", str(entry.uuid), "was corrected before", "a line that still stands")
        raise Conflict("This line was corrected before.", wrong)
