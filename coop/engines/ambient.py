"""What a carton stands in, hour by hour: air, sun and wind on each of its six faces.

Air comes from the day's highest and lowest temperature of the places on the way; the sun from its position
and the share of cloud; the film from whether the carton waits, rides on a roof, in a cabin or in a hold.
"""

from enum import IntEnum
from typing import NamedTuple

import numpy as np

from coop.engines import sun
from coop.engines.carton import STILL_AIR_RESISTANCE

DAY = 86400.0
DAILY_RANGE_SHARE = np.array(
    [0.88, 0.92, 0.95, 0.98, 1.00, 0.98, 0.91, 0.74, 0.55, 0.38, 0.23, 0.13,
     0.05, 0.00, 0.00, 0.06, 0.14, 0.24, 0.39, 0.50, 0.59, 0.68, 0.75, 0.82]
)  # fmt: skip
"""Share of the daily range below the maximum at hours 1 … 24 (ASHRAE Handbook, Fundamentals)."""

ABSORPTANCE = 0.75
"""Of kraft board for sunshine: the upper end of 0.6–0.75, from memory."""
SKY_LOSS = 63.0
"""W/m² that a level face loses to a clear sky beyond what it gets back (ASHRAE: 3.9 K at ho 17)."""
EMITTANCE = 0.9
"""Of board for heat radiation, from memory."""

FILM_STILL = 1 / np.array(STILL_AIR_RESISTANCE)
"""W/(m² K): ISO 6946 surface resistances; heat flows down into a cold carton's lid and up into its floor."""
FILM_OUTDOORS = 12.0
"""W/(m² K) of a carton in the open in light air, from memory; less wind would mean a hotter lid."""
FILM_MOVING = 20.0
"""W/(m² K) on a vehicle's roof: 15–25, from memory."""
SAMPLES = 4
"""Instants within each interval whose mean is taken."""


class Carries(IntEnum):
    """What the carton stands in."""

    SHADE = 0
    SUN = 1
    ROOF = 2
    CABIN = 3
    HOLD = 4


class Weather(NamedTuple):
    """Daily weather of p places over d days, beginning with the day that holds time 0."""

    maximum: np.ndarray
    minimum: np.ndarray
    cloud_share: np.ndarray
    latitude: np.ndarray
    longitude: np.ndarray
    day_of_year: np.ndarray
    zone_offset: float


class Stages(NamedTuple):
    """What n cartons go through in s stages: each ends at an instant, leads from a place to a place."""

    ends: np.ndarray
    start_place: np.ndarray
    end_place: np.ndarray
    carries: np.ndarray


class Exposure(NamedTuple):
    """Air, sol-air and film of n cartons over m intervals; faces in the order of carton.FACES."""

    air: np.ndarray
    outside: np.ndarray
    film: np.ndarray
    sunshine: np.ndarray


def air_temperature(*, clock, maximum, minimum):
    """Air temperature at an hour of a day whose extremes are known.

    clock     (n,)   s    local clock time since midnight, 0 … 86 400
    maximum   (n,)   °C   highest of the day
    minimum   (n,)   °C   lowest of the day

    Returns (n,) °C, by straight lines between the hours of the table.
    Raises ValueError where the maximum is below the minimum or either is not finite.
    Source: ASHRAE Handbook, Fundamentals, climatic design information, fraction of the daily range.
    """
    maximum, minimum = np.asarray(maximum, float), np.asarray(minimum, float)
    if not np.all(maximum >= minimum):
        raise ValueError(f"maximum must not be below minimum: {maximum} against {minimum}")
    hours = np.arange(25.0)
    share = np.interp(
        np.asarray(clock) / 3600.0, hours, np.concatenate([DAILY_RANGE_SHARE[-1:], DAILY_RANGE_SHARE])
    )
    return maximum - share * (maximum - minimum)


def sol_air_temperature(*, air, sunshine, film, absorptance=ABSORPTANCE, sky_loss=0.0):
    """Air temperature that would bring as much heat as air, sun and sky together.

    air           (n,)   °C
    sunshine      (n,)   W/m²       on the face, ≥ 0
    film          (n,)   W/(m² K)   > 0
    absorptance   float  –          of the face for sunshine
    sky_loss      (n,)   W/m²       net heat radiation to the sky, ≥ 0; 0 for an upright face

    Returns (n,) °C.
    Raises ValueError for a film that is not positive.
    Source: ASHRAE Handbook, Fundamentals, nonresidential load calculations, sol-air temperature.
    """
    film = np.asarray(film, float)
    if not np.all(film > 0):
        raise ValueError(f"film must be positive, not {film}")
    return air + (absorptance * np.asarray(sunshine) - np.asarray(sky_loss)) / film


def exposure(*, weather, stages, closing, interval, count, offset):
    """Everything that acts on n cartons from closing on.

    weather    Weather              of the places on the way
    stages     Stages               ends (n, s) s since closing, rising; the last one goes on for ever
    closing    (n,)   s             instant of closing since midnight of the weather's first day
    interval   float  s             length of an interval
    count      int    –             number of intervals m
    offset     float  K             how much warmer than the air a cabin or hold is

    Returns Exposure: air (n, m) °C, outside (n, m, 6) °C, film (n, m, 6) W/(m² K), sunshine (n, m) W/m².
    Raises ValueError for a closing or a weather that does not cover the time asked for.
    Source: air_temperature, sun.sunlight, sol_air_temperature; films ISO 6946.
    """
    since = (np.arange(count * SAMPLES) + 0.5) * (interval / SAMPLES)
    instant = np.asarray(closing, float)[:, None] + since
    days = weather.maximum.shape[1]
    if instant.min() < 0 or instant.max() >= days * DAY:
        raise ValueError(
            f"weather covers {days} days, not {instant.min() / DAY:.1f} … {instant.max() / DAY:.1f}"
        )
    stage, along = _position(stages, since)
    air, sunlight, cloud = _weather_on_the_way(weather, stages, stage, along, instant)
    carries = stages.carries[stage]
    outside, film = _faces(air, sunlight, cloud, carries, offset)
    mean = _interval_mean(count)
    return Exposure(
        mean(air), mean(outside), mean(film), mean(np.where(_in_the_sun(carries), sunlight.level, 0.0))
    )


def _position(stages, since):
    """Stage of each carton at each instant, and how far along it is, 0 … 1."""
    ends = np.asarray(stages.ends, float)
    last = ends.shape[1] - 1
    stage = np.minimum((ends[:, :, None] <= since).sum(axis=1), last)
    rows = np.arange(len(ends))[:, None]
    begin = np.where(stage > 0, ends[rows, stage - 1], 0.0)
    length = np.maximum(ends[rows, stage] - begin, 1e-9)
    return stage, np.clip((since - begin) / length, 0.0, 1.0)


def _weather_on_the_way(weather, stages, stage, along, instant):
    """Air, sunshine and cloud between the two places of a stage."""
    day = (instant // DAY).astype(int)
    clock = instant - day * DAY
    ends = []
    for places in (stages.start_place, stages.end_place):
        place = places[stage]
        height = sun.sun_height(
            day_of_year=weather.day_of_year[day],
            clock=clock,
            zone_offset=weather.zone_offset,
            latitude=weather.latitude[place],
            longitude=weather.longitude[place],
        )
        air = air_temperature(
            clock=clock, maximum=weather.maximum[place, day], minimum=weather.minimum[place, day]
        )
        ends.append((air, height, weather.cloud_share[place, day]))
    air, height, cloud = (low + along * (high - low) for low, high in zip(*ends, strict=True))
    light = sun.sunlight(height=height, day_of_year=weather.day_of_year[day], cloud_share=cloud)
    return air, light, cloud


def _in_the_sun(carries):
    return (carries == Carries.SUN) | (carries == Carries.ROOF)


def _faces(air, sunlight, cloud, carries, offset):
    """Outside temperature and film at the six faces (left, right, front, back, bottom, top)."""
    open_air = _in_the_sun(carries)
    closed = (carries == Carries.CABIN) | (carries == Carries.HOLD)
    around = air + np.where(closed, offset, 0.0)
    open_film = np.where(carries == Carries.ROOF, FILM_MOVING, FILM_OUTDOORS)
    film = np.empty((*air.shape, 6))
    film[:] = np.where(open_air[..., None], open_film[..., None], FILM_STILL)
    # The floor lies sheltered, wherever the carton stands.
    film[..., 4] = FILM_STILL[4]
    sides = sol_air_temperature(air=air, sunshine=sunlight.upright, film=open_film)
    loss = EMITTANCE * SKY_LOSS * (1 - cloud)
    lid = sol_air_temperature(air=air, sunshine=sunlight.level, film=open_film, sky_loss=loss)
    outside = np.empty_like(film)
    outside[..., :4] = np.where(open_air, sides, around)[..., None]
    # The floor of a roof rack or of the ground beside the carton lies in the carton's own shade.
    outside[..., 4] = around
    outside[..., 5] = np.where(open_air, lid, around)
    return outside, film


def _interval_mean(count):
    def mean(values):
        shape = (values.shape[0], count, SAMPLES, *values.shape[2:])
        return values.reshape(shape).mean(axis=2)

    return mean
