from django.db.models import Prefetch

from coop.models import Leg, Route


def legs():
    return Leg.objects.select_related("start", "end").order_by("position")


def routes_of(cooperative):
    """Routes with both ends and their legs in order."""
    routes = Route.objects.of(cooperative).select_related("origin", "destination")
    return routes.prefetch_related(Prefetch("legs", legs()))


def legs_of(cooperative):
    found = Leg.objects.of(cooperative).select_related("route", "start", "end")
    return found.order_by("route__name", "route", "position")
