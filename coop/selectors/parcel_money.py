"""What a parcel cost, and one member's share of it: of many closed ones at once, or of one as it stands."""

from typing import NamedTuple

from django.db.models import F, Q, Sum

from coop.errors import Invalid
from coop.models import BillLine, Entry, ParcelState, Share
from coop.selectors.split import split_of


class ParcelMoney(NamedTuple):
    """Minor units; None where there is no bill, no share, or nobody who may know."""

    cost_minor: int | None = None
    share_minor: int | None = None
    alone_minor: int | None = None


UNKNOWN = ParcelMoney()


def written_money(cooperative, parcels, member):
    """ParcelMoney of those parcels whose bill is written, by their key, in a fixed number of questions."""
    called_off = [parcel.pk for parcel in parcels if parcel.state == ParcelState.CALLED_OFF]
    of_these = {"parcel__in": [parcel.pk for parcel in parcels if parcel.state != ParcelState.CALLED_OFF]}
    bills = BillLine.objects.of(cooperative).filter(**of_these).order_by()
    costs = dict(bills.values("parcel").annotate(sum=Sum("amount_minor")).values_list("parcel", "sum"))
    shares = Share.objects.of(cooperative).filter(**of_these, member=member, rule=F("parcel__sharing_rule"))
    own = {share.parcel_id: share for share in shares}
    money = {key: ParcelMoney(cost, *_share(own.get(key))) for key, cost in costs.items()}
    return money | _left_over(cooperative, called_off, member)


def money_of(parcel, member):
    """ParcelMoney of one parcel; of an open one as if it closed now, where what that rests on is there."""
    if parcel.state == ParcelState.CALLED_OFF:
        return _left_over(parcel.cooperative_id, [parcel.pk], member).get(parcel.pk, UNKNOWN)
    try:
        split = split_of(parcel)
    except Invalid:
        # A month without a climate, say: the parcel is still there to be seen.
        return UNKNOWN
    own = next((one for one in split.portions if one.member.pk == member.pk), None)
    return ParcelMoney(split.bill_minor, split.share_of(member), own and own.alone_minor)


def _left_over(cooperative, keys, member):
    """Of parcels that were called off: their bill was taken back, so what the lines of accounts come to."""
    if not keys:
        return {}
    lines = Entry.objects.of(cooperative).filter(parcel__in=keys).order_by()
    own = Sum("amount_minor", filter=Q(member=member))
    sums = lines.values("parcel").annotate(cost=Sum("amount_minor"), share=own)
    return {row["parcel"]: ParcelMoney(row["cost"], row["share"]) for row in sums}


def _share(share):
    return (None, None) if share is None else (share.amount_minor, share.alone_minor)
