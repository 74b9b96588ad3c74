from django.db.models import Q

from coop.models import Charge


def charges_of(cooperative):
    return Charge.objects.of(cooperative).select_related("route", "buyer")


def charges_on(cooperative, day, *, route=None, buyer=None):
    """Charges that count on a day: those of every route and buyer, and those of this route and this buyer.

    One that names both counts only where both agree.
    """
    on_route = Q(route__isnull=True) | Q(route=route) if route else Q(route__isnull=True)
    for_buyer = Q(buyer__isnull=True) | Q(buyer=buyer) if buyer else Q(buyer__isnull=True)
    return charges_of(cooperative).on(day).filter(on_route, for_buyer)
