"""What a parcel cost, and one member's share of it: of many closed ones at once, or of one as it stands."""

from typing import NamedTuple

from django.db.models import F, Sum

from coop.errors import Invalid
from coop.models import BillLine, Share
from coop.selectors.split import split_of


class ParcelMoney(NamedTuple):
    """Minor units; None where there is no bill, no share, or nobody who may know."""

    cost_minor: int | None = None
    share_minor: int | None = None
    alone_minor: int | None = None


UNKNOWN = ParcelMoney()


def written_money(cooperative, parcels, member):
    """ParcelMoney of those parcels whose bill is written, by their key, in two questions."""
    of_these = {"parcel__in": [parcel.pk for parcel in parcels]}
    bills = BillLine.objects.of(cooperative).filter(**of_these).order_by()
    costs = dict(bills.values("parcel").annotate(sum=Sum("amount_minor")).values_list("parcel", "sum"))
    shares = Share.objects.of(cooperative).filter(**of_these, member=member, rule=F("parcel__sharing_rule"))
    own = {share.parcel_id: share for share in shares}
    return {key: ParcelMoney(cost, *_share(own.get(key))) for key, cost in costs.items()}


def money_of(parcel, member):
    """ParcelMoney of one parcel; of an open one as if it closed now, where what that rests on is there."""
    try:
        split = split_of(parcel)
    except Invalid:
        # A month without a climate, say: the parcel is still there to be seen.
        return UNKNOWN
    own = next((one for one in split.portions if one.member.pk == member.pk), None)
    return ParcelMoney(split.bill_minor, split.share_of(member), own and own.alone_minor)


def _share(share):
    return (None, None) if share is None else (share.amount_minor, share.alone_minor)
