"""A closed parcel that did not leave: its fish goes back into the freezer, and its bill is taken back."""

from datetime import datetime

from django.db import transaction
from django.utils import timezone

from coop.errors import invalid
from coop.models import Entry, EntryKind, Member, Parcel, ParcelState
from coop.selectors.parcels import parcel_named
from coop.selectors.payments import local_today
from coop.services.closing import parcel_in
from coop.services.locking import lock
from coop.services.roles import require_packer
from coop.services.writing import written

BILLED = (EntryKind.SHARE, EntryKind.CORRECTION)


@transaction.atomic
def call_off_parcel(*, by: Member, parcel: Parcel, note: str, now: datetime | None = None) -> Parcel:
    """Calls a closed parcel off, for good: each line of its bill is taken back by one that names it.

    What was spent all the same, such as shavings or the way to the stand, is written next by `correct_bill`.
    """
    cooperative, now = lock(by.cooperative), now or timezone.now()
    require_packer(by, "call a parcel off")
    parcel = parcel_in(by, parcel, ParcelState.CLOSED, "is called off once it is closed and before it leaves")
    if not note.strip():
        raise invalid("note", note, "does not say why", "why it did not leave")

    # The clock of the phone that closed it may have been ahead of ours.
    parcel.state, parcel.called_off_at = ParcelState.CALLED_OFF, max(now, parcel.closed_at)
    parcel.called_off_note = note
    written(parcel)
    for entry in standing_lines(parcel):
        written(taken_back(entry, by=by, at=now, note=note))
    return parcel_named(cooperative, parcel.uuid)


def standing_lines(parcel):
    """What the members owe for a parcel or got back of it, without lines that took one another back."""
    lines = Entry.objects.of(parcel.cooperative_id).filter(parcel=parcel, kind__in=BILLED)
    standing = lines.filter(corrects=None, corrections=None).exclude(amount_minor=0)
    return list(standing.select_related("member").order_by("pk"))


def taken_back(entry, *, by, at, note):
    return Entry(
        cooperative_id=entry.cooperative_id,
        member=entry.member,
        kind=EntryKind.CORRECTION,
        amount_minor=-entry.amount_minor,
        parcel_id=entry.parcel_id,
        corrects=entry,
        noted_on=local_today(by.cooperative, at),
        written_by=by,
        written_at=at,
        note=note,
    )
