from coop.models import Buyer


def buyers_of(cooperative):
    """Buyers with their place and their receiving hours in order."""
    buyers = Buyer.objects.of(cooperative).select_related("place")
    return buyers.prefetch_related("receiving_hours")
