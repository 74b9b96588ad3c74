"""The last step of a parcel: the buyer's money is with its owners, or he paid each of them."""

from django.db import transaction
from django.utils import timezone

from coop.errors import Conflict, Problem, invalid
from coop.models import Entry, EntryKind, Parcel, ParcelState
from coop.models.measures import MONEY_MINOR
from coop.selectors.payments import local_today
from coop.selectors.settling import dues_of, proceeds_of
from coop.services.locking import lock
from coop.services.roles import require_own, require_packer
from coop.services.writing import written


@transaction.atomic
def settle_parcel(*, by, parcel, received_minor, at=None) -> Parcel:
    """Settles a parcel that was handed over; received_minor None: the buyer pays each owner himself."""
    require_packer(by, "settle a parcel")
    require_own(by, parcel)
    cooperative = lock(by.cooperative)
    parcel = Parcel.objects.of(cooperative).select_related("cooperative").get(pk=parcel.pk)
    at = at or timezone.now()
    _require_settleable(parcel, received_minor, at)
    parcel.state, parcel.settled_at, parcel.received_minor = ParcelState.SETTLED, at, received_minor
    entries = [] if received_minor is None else _proceeds(parcel, cooperative, by, at)
    written(parcel)
    for entry in entries:
        written(entry)
    return parcel


def _proceeds(parcel, cooperative, by, at):
    dues = dues_of(parcel)
    if dues.missing:
        names = ", ".join(dues.missing)
        wrong = Problem("parcel", str(parcel.uuid), f"holds {names} without a price", "a price for each fish")
        raise Conflict(f"There is no price for {names} on the day of the hand-over.", wrong)
    amounts = proceeds_of(
        dues,
        received_minor=parcel.received_minor,
        rule=cooperative.claims_rule,
        coin=cooperative.coin_minor,
    )
    return [
        Entry(
            cooperative=cooperative,
            member=member,
            kind=EntryKind.PROCEEDS,
            amount_minor=-amount,
            parcel=parcel,
            noted_on=local_today(cooperative, at),
            written_by=by,
            written_at=at,
        )
        for member, amount in zip(dues.members, amounts, strict=True)
        if amount
    ]


def _require_settleable(parcel, received_minor, at):
    if parcel.state != ParcelState.HANDED_OVER:
        words = f"is {parcel.get_state_display()}"
        wrong = Problem("parcel", str(parcel.uuid), words, "a parcel that was handed over and is not settled")
        raise Conflict(f"This parcel cannot be settled: it {words}.", wrong)
    if at < parcel.handed_over_at:
        right = f"{parcel.handed_over_at.isoformat()} or later"
        raise invalid("at", at.isoformat(), "is before the hand-over", right)
    most = int(MONEY_MINOR.high)
    is_amount = type(received_minor) is int and 0 <= received_minor <= most
    if received_minor is not None and not is_amount:
        right = f"a whole number of minor units, 0 to {most}, or nothing where the buyer pays each owner"
        raise invalid("received_minor", received_minor, "is no amount", right)
