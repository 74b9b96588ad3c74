"""A cost of a parcel that became known after its bill was shared: new lines for all, shared as it was."""

from uuid import uuid5

from django.db import transaction
from django.utils import timezone

from coop.engines.largest_remainder import largest_remainder
from coop.errors import Conflict, Problem, invalid
from coop.models import Entry, EntryKind, ParcelState
from coop.models.measures import MONEY_MINOR
from coop.selectors.payments import local_today
from coop.services.locking import lock
from coop.services.roles import require_own, require_packer
from coop.services.writing import written


@transaction.atomic
def correct_bill(*, by, parcel, amount_minor, note, uuid=None, at=None) -> list[Entry]:
    """Spreads a later cost, or what came back of one where it is below 0, as the bill was shared."""
    require_packer(by, "correct a bill")
    require_own(by, parcel)
    lock(by.cooperative)
    parcel.refresh_from_db()
    _require_correctable(parcel, amount_minor, note)
    shares = list(parcel.shares.filter(rule=parcel.sharing_rule).select_related("member"))
    ids = [_own_id(uuid, share) for share in shares]
    if uuid and (found := list(Entry.objects.of(by.cooperative).filter(uuid__in=ids))):
        _require_the_same(found, parcel, amount_minor)
        return found
    at = at or timezone.now()
    entries = [
        Entry(
            **({"uuid": own} if own else {}),
            cooperative=by.cooperative,
            member=share.member,
            kind=EntryKind.CORRECTION,
            amount_minor=amount,
            parcel=parcel,
            noted_on=local_today(by.cooperative, at),
            written_by=by,
            written_at=at,
            note=note,
        )
        for share, own, amount in zip(shares, ids, spread(shares, amount_minor, by.cooperative), strict=True)
    ]
    return [written(entry) for entry in entries if entry.amount_minor]


def spread(shares, amount_minor, cooperative):
    """An amount in the proportions of shares, or by weight where nobody pays anything; to the coin."""
    amounts = [max(0, share.amount_minor) for share in shares]
    weights = amounts if any(amounts) else [share.mass_kg for share in shares]
    parts = largest_remainder(weights, total=abs(amount_minor), coin=cooperative.coin_minor)
    return parts if amount_minor > 0 else [-part for part in parts]


def _own_id(uuid, share):
    """Each line has an id of its own, which the same request would give it again."""
    return uuid and uuid5(uuid, str(share.member_id))


def _require_the_same(entries, parcel, amount_minor):
    if {entry.parcel_id for entry in entries} != {parcel.pk} or _sum(entries) != amount_minor:
        wrong = Problem("id", str(parcel.uuid), "was given to something else before", "a new id")
        raise Conflict("This id was given to something else before.", wrong)


def _sum(entries):
    return sum(entry.amount_minor for entry in entries)


def _require_correctable(parcel, amount_minor, note):
    if parcel.state == ParcelState.OPEN:
        wrong = Problem("parcel", str(parcel.uuid), "is still open", "a parcel whose bill is written")
        raise Conflict("This parcel has no bill yet.", wrong)
    most = int(MONEY_MINOR.high)
    if type(amount_minor) is not int or not 1 <= abs(amount_minor) <= most:
        right = f"a whole number of minor units up to {most}, below 0 for what came back"
        raise invalid("amount_minor", amount_minor, "is no amount", right)
    if not note.strip():
        raise invalid("note", note, "does not say what for", "what was paid, or came back, and why")
