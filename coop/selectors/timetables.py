from django.db.models import Prefetch

from coop.models import Timetable
from coop.selectors.routes import legs


def timetables_of(cooperative):
    """Timetables with their carrier and route, of all days."""
    return Timetable.objects.of(cooperative).select_related("carrier", "route")


def timetables_in_full(cooperative):
    """Timetables of all days with the way that each of them goes."""
    rows = timetables_of(cooperative).select_related("carrier", "route__origin", "route__destination")
    return rows.prefetch_related(Prefetch("route__legs", legs())).order_by("pk")


def vehicle_key(timetable, departs_at):
    """Names the vehicle of one departure, whichever of several rows of its timetable names the departure."""
    return timetable.carrier_id, timetable.route_id, departs_at


def timetables_between(route, first_day, last_day):
    """Timetables of one route that count on at least one of these days, both ends among them."""
    found = timetables_of(route.cooperative_id).filter(route=route, valid_from__lte=last_day)
    return found.exclude(valid_until__lte=first_day)
