"""What a carton stands in that goes nowhere: the weather of a month at a place, or two temperatures."""

from datetime import datetime
from zoneinfo import ZoneInfo

from coop.engines import sun
from coop.errors import invalid
from coop.selectors.engine_inputs import RIDES, WAITS, require_followable_weather
from coop.selectors.hold import Surroundings

STANDS_IN = {**RIDES, **WAITS}
YEAR = 2026
"""Any year: only the zone's offset in the month is read from it."""
MARCH = 3


def month_at(place, month, **stands):
    """hold.Surroundings of the mean day of a month at a place; `stands` as in `standing`."""
    climate = next((row for row in place.climates.all() if row.month == month), None)
    if climate is None:
        known = ", ".join(str(row.month) for row in place.climates.all()) or "none"
        right = f"a month whose climate there is known: {known}"
        raise invalid("month", month, f"has no climate at {place.name}", right)
    low, high = climate.temperature_min_c, climate.temperature_max_c
    require_followable_weather("place", place.code, coldest=low, hottest=high, offset=stands["offset_c"])
    return standing(
        maximum_c=climate.temperature_max_c,
        minimum_c=climate.temperature_min_c,
        cloud_share=climate.cloud_share,
        latitude_deg=place.latitude_deg,
        longitude_deg=place.longitude_deg,
        month=month,
        zone_offset=datetime(YEAR, month, 15, tzinfo=ZoneInfo(place.time_zone)).utcoffset().total_seconds(),
        **stands,
    )


def between(minimum_c, maximum_c, *, cloud_share, **stands):
    """hold.Surroundings of days between two temperatures, on the equator in March; `stands` as in `standing`.

    The sun is overhead there at noon: a lid in the sun gets hotter nowhere, so no hold comes out too long.
    """
    return standing(
        maximum_c=maximum_c,
        minimum_c=minimum_c,
        cloud_share=cloud_share,
        latitude_deg=0.0,
        longitude_deg=0.0,
        month=MARCH,
        zone_offset=0.0,
        **stands,
    )


def standing(*, month, ride, closes_at_hour, **sky):
    """hold.Surroundings by the words and hours that people use."""
    return Surroundings(
        day_of_year=int(sun.MEAN_DAY[month - 1]),
        carries=STANDS_IN[ride],
        closing_hour=closes_at_hour,
        **sky,
    )
