from coop.models import Climate, DayWeather, Place


def places():
    """Every place with its twelve months; places belong to nobody."""
    return Place.objects.prefetch_related("climates")


def climates():
    return Climate.objects.select_related("place").order_by("place__name", "month")


def day_weathers_of(cooperative):
    return DayWeather.objects.of(cooperative).select_related("place")


def weather_between(cooperative, first_day, last_day):
    """Days with both ends, oldest first; an observed day comes after its forecast, so the last one counts."""
    days = day_weathers_of(cooperative).filter(date__gte=first_day, date__lte=last_day)
    return days.order_by("date", "place", "kind")
