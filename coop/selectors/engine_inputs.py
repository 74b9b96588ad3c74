"""Rows as the engines take them: plain numbers, arrays, and the engines' own records."""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np

from coop.engines import sun
from coop.engines.ambient import Carries, Weather
from coop.engines.carton import Carton, shavings_conductivity
from coop.engines.fish import Flesh
from coop.engines.journey_time import Leg
from coop.errors import invalid
from coop.models.cartons import FACES

HOUR = 3600.0
COLDEST_DAY, HOTTEST_DAY = -40.0, 55.0
"""°C of air: in colder air fish leaves its tables; in hotter air and sun a lid gets beyond 120 °C."""
RIDES = {"roof": Carries.ROOF, "cabin": Carries.CABIN, "hold": Carries.HOLD}
WAITS = {"shade": Carries.SHADE, "sun": Carries.SUN}


def carton_of(design):
    """engines.carton.Carton of a carton design, its conductivity by density where none was entered."""
    conductivity = design.insulation_conductivity_w_m_k
    if conductivity is None:
        conductivity = float(shavings_conductivity(design.insulation_density_kg_m3))
    return Carton(
        outer_length=design.outer_length_m,
        outer_width=design.outer_width_m,
        outer_height=design.outer_height_m,
        board_thickness=design.board_thickness_m,
        board_conductivity=design.board_conductivity_w_m_k,
        insulation=tuple(getattr(design, f"insulation_{face}_m") for face in FACES),
        insulation_conductivity=conductivity,
        insulation_density=design.insulation_density_kg_m3,
        insulation_specific_heat=design.insulation_specific_heat_j_kg_k,
        stowage_density=design.stowage_density_kg_m3,
    )


def flesh_of(species):
    return Flesh(
        water=species.water_share,
        protein=species.protein_share,
        fat=species.fat_share,
        ash=species.ash_share,
        freezing_point=species.freezing_point_c,
    )


def legs_of_journey(legs):
    """engines.journey_time.Leg of each leg row, s."""
    return [
        Leg(
            mean=leg.hours_mean * HOUR,
            floor=leg.hours_floor * HOUR,
            coefficient_of_variation=leg.hours_cv,
            stop_mean=leg.stop_hours_mean * HOUR,
            stop_coefficient_of_variation=leg.stop_hours_cv,
        )
        for leg in legs
    ]


def lognormal_sigma(coefficient_of_variation):
    """Standard deviation of the logarithm."""
    return float(np.sqrt(np.log1p(coefficient_of_variation**2)))


def midnight(day, zone):
    return datetime(day.year, day.month, day.day, tzinfo=ZoneInfo(zone))


def weather_of(places, *, first_day, days, month, day_weathers, zone):
    """ambient.Weather of places over days: the climate of one month, and what somebody entered instead.

    A journey keeps the month of its departure, and the sun that of the month's mean day: a mean of a month
    knows no dates, and so the days of a month for which nothing was entered are alike.
    """
    dates = [first_day + timedelta(days=n) for n in range(days)]
    entered = {(row.place_id, row.date): row for row in day_weathers}
    daily = np.array(
        [[_day(place, month, entered.get((place.id, date))) for date in dates] for place in places]
    )
    offset = midnight(first_day, zone).utcoffset().total_seconds()
    return Weather(
        maximum=daily[..., 0],
        minimum=daily[..., 1],
        cloud_share=daily[..., 2],
        latitude=np.array([place.latitude_deg for place in places]),
        longitude=np.array([place.longitude_deg for place in places]),
        day_of_year=np.full(days, sun.MEAN_DAY[month - 1]),
        zone_offset=offset,
    )


def require_followable_weather(field, name, *, coldest, hottest, offset):
    """Refuses days colder or hotter than fish can be followed in, with what a cabin or hold adds."""
    if coldest + min(offset, 0.0) < COLDEST_DAY or hottest > HOTTEST_DAY:
        found = f"{coldest:g} to {hottest:g} °C" + (f", {offset:+g} inside" if offset else "")
        right = f"{COLDEST_DAY:g} to {HOTTEST_DAY:g} °C in the climate, the weather and the vehicle"
        raise invalid(field, name, f"has weather of {found}, in which no fish is followed", right)


def _day(place, month, entered):
    climate = next((row for row in place.climates.all() if row.month == month), None)
    if climate is None:
        raise invalid(
            "route",
            place.code,
            f"{place.name} has no climate for month {month}",
            "a climate for each month",
        )
    cloud = climate.cloud_share
    if entered is None:
        return climate.temperature_max_c, climate.temperature_min_c, cloud
    if entered.cloud_share is not None:
        cloud = entered.cloud_share
    return entered.temperature_max_c, entered.temperature_min_c, cloud
