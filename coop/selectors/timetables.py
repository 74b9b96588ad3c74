from coop.models import Timetable


def timetables_of(cooperative):
    """Timetables with their carrier and route, of all days."""
    return Timetable.objects.of(cooperative).select_related("carrier", "route")


def timetables_between(route, first_day, last_day):
    """Timetables of one route that count on at least one of these days, both ends among them."""
    found = timetables_of(route.cooperative_id).filter(route=route, valid_from__lte=last_day)
    return found.exclude(valid_until__lte=first_day)
