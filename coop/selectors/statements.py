"""What each member owes the cooperative, or is owed: the sum of the lines of her account."""

from dataclasses import dataclass

from django.db.models import Sum
from django.db.models.functions import Coalesce

from coop.models import Entry, Member
from coop.selectors.payments import entries_of


@dataclass(frozen=True)
class Statement:
    """Entries are a queryset, newest first, so that a page of them can be read."""

    member: Member
    balance_minor: int
    entries: object

    @property
    def owes_minor(self):
        """What she owes the cooperative."""
        return max(0, self.balance_minor)

    @property
    def is_owed_minor(self):
        """What the cooperative owes her."""
        return max(0, -self.balance_minor)


def balance_of(member):
    """Minor units; positive: she owes it."""
    own = Entry.objects.of(member.cooperative_id).filter(member=member)
    return own.aggregate(sum=Coalesce(Sum("amount_minor"), 0))["sum"]


def statement_of(member) -> Statement:
    own = entries_of(member.cooperative_id).filter(member=member)
    return Statement(member, balance_of(member), own)


def balances_of(cooperative):
    """Members with `balance_minor`, in one question; who left stays in the list for what is still open."""
    summed = Coalesce(Sum("entries__amount_minor"), 0)
    return Member.objects.of(cooperative).annotate(balance_minor=summed).order_by("name", "pk")
