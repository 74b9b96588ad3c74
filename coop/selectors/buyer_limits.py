from coop.errors import invalid
from coop.models import BuyerLimit


def buyer_limits_of(cooperative):
    """Limits of all buyers and days, with their buyer, the newest first."""
    limits = BuyerLimit.objects.of(cooperative).select_related("buyer")
    return limits.order_by("buyer__name", "buyer", "-valid_from")


def limit_on(buyer, day) -> BuyerLimit:
    """What a buyer accepts of fish that leaves on a day; Invalid where nothing is said of it.

    No query where the limits of the buyer were fetched.
    """
    return limit_among(buyer.limits.all(), buyer, day)


def limit_among(rows, buyer, day) -> BuyerLimit:
    """The one of a buyer's limits, read already, that counts on a day; Invalid where none does."""
    found = next((row for row in rows if row.counts_on(day)), None)
    if found is None:
        raise invalid("buyer", buyer.slug, f"has no limit that counts on {day}", "a buyer with a limit then")
    return found
