from django.db.models import OuterRef, Subquery

from coop.models import Buyer, BuyerLimit


def buyers_of(cooperative):
    """Buyers with their place, their limits and their receiving hours in order."""
    buyers = Buyer.objects.of(cooperative).select_related("place")
    return buyers.prefetch_related("limits", "receiving_hours")


def buyers_on(cooperative, day):
    """Buyers with the limit that counts on a day in two columns, `limit_kind` and `limit_value`."""
    limits = BuyerLimit.objects.of(cooperative).on(day).filter(buyer=OuterRef("pk"))
    columns = ("limit_kind", "limit_value")
    return buyers_of(cooperative).annotate(**{name: Subquery(limits.values(name)[:1]) for name in columns})
