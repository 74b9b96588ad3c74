from coop.models import Tariff


def tariffs_of(cooperative):
    """Tariffs with carrier, route, and their rules and steps in order."""
    tariffs = Tariff.objects.of(cooperative).select_related("carrier", "route")
    return tariffs.prefetch_related("rules__steps")


def tariff_on(carrier, route, day):
    """The tariff of one carrier on one route that counts on a day, or None."""
    tariffs = tariffs_of(carrier.cooperative_id).filter(carrier=carrier, route=route)
    return tariffs.on(day).first()


def tariffs_between(route, first_day, last_day):
    """Tariffs of one route that count on at least one of these days, oldest first."""
    found = tariffs_of(route.cooperative_id).filter(route=route, valid_from__lte=last_day)
    return found.exclude(valid_until__lte=first_day).order_by("carrier", "valid_from")
