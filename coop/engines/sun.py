"""Where the sun stands and how much of it reaches a carton."""

from typing import NamedTuple

import numpy as np

MEAN_DAY = np.array([17, 47, 75, 105, 135, 162, 198, 228, 258, 288, 318, 344])
"""Day of the year that stands for each month (Klein 1977, Solar Energy 19: 325–329, table 1)."""
GROUND_REFLECTANCE = 0.2
"""Common practice for bare ground (Duffie & Beckman, Solar Engineering of Thermal Processes, ch. 2)."""
SOLAR_CONSTANT = 1367.0
"""W/m² (Duffie & Beckman, ch. 1)."""
LOWEST_SUN = np.sin(np.radians(3.0))
"""Below 3° the beam is left out: the split into beam and diffuse light has no meaning there."""


class Sunlight(NamedTuple):
    """Sunshine W/m² on a level lid and, as the mean over all headings, on an upright side."""

    level: np.ndarray
    upright: np.ndarray


def declination(day_of_year):
    """Angle of the sun over the equator.

    day_of_year   (n,)   –   1 … 366

    Returns (n,) rad.
    Raises ValueError for a day outside 1 … 366.
    Source: Spencer (1971), Fourier series representation of the position of the sun, Search 2(5): 172.
    """
    angle = _day_angle(day_of_year)
    return (
        0.006918
        - 0.399912 * np.cos(angle)
        + 0.070257 * np.sin(angle)
        - 0.006758 * np.cos(2 * angle)
        + 0.000907 * np.sin(2 * angle)
        - 0.002697 * np.cos(3 * angle)
        + 0.00148 * np.sin(3 * angle)
    )


def equation_of_time(day_of_year):
    """Solar time less clock time at the zone's meridian.

    day_of_year   (n,)   –   1 … 366

    Returns (n,) s.
    Raises ValueError for a day outside 1 … 366.
    Source: Spencer (1971), Search 2(5): 172.
    """
    angle = _day_angle(day_of_year)
    minutes = 229.18 * (
        0.0000075
        + 0.001868 * np.cos(angle)
        - 0.032077 * np.sin(angle)
        - 0.014615 * np.cos(2 * angle)
        - 0.040849 * np.sin(2 * angle)
    )
    return 60 * minutes


def sun_height(*, day_of_year, clock, zone_offset, latitude, longitude):
    """Sine of the sun's height over the horizon.

    day_of_year   (n,)   –     1 … 366
    clock         (n,)   s     local clock time since midnight
    zone_offset   (n,)   s     local clock less UTC
    latitude      (n,)   °     north positive, −90 … 90
    longitude     (n,)   °     east positive, −180 … 180

    Returns (n,) –, negative at night.
    Raises ValueError for a latitude or longitude out of range.
    Source: Duffie & Beckman, Solar Engineering of Thermal Processes, eq. 1.6.5.
    """
    for name, value, bound in (("latitude", latitude, 90.0), ("longitude", longitude, 180.0)):
        if not np.all(np.abs(value) <= bound):
            raise ValueError(f"{name} must lie between −{bound:g} and {bound:g}, not {value}")
    solar = clock - zone_offset + 240.0 * np.asarray(longitude) + equation_of_time(day_of_year)
    hour_angle = 2 * np.pi * (solar / 86400.0 - 0.5)
    tilt, north = declination(day_of_year), np.radians(latitude)
    return np.sin(north) * np.sin(tilt) + np.cos(north) * np.cos(tilt) * np.cos(hour_angle)


def clear_sky(height):
    """Sunshine on level ground under a clear sky.

    height   (n,)   –   sine of the sun's height

    Returns (n,) W/m², 0 at night.
    Raises ValueError for a value outside −1 … 1.
    Source: Haurwitz (1945), Journal of Meteorology 2: 154–166.
    """
    height = np.asarray(height, float)
    if not np.all(np.abs(height) <= 1.0 + 1e-12):
        raise ValueError(f"height must lie between −1 and 1, not {height}")
    up = np.maximum(height, 1e-9)
    return np.where(height > 0, 1098.0 * up * np.exp(-0.059 / up), 0.0)


def cloudy_sky(clear, *, cloud_share):
    """Sunshine on level ground that clouds let through.

    clear         (n,)   W/m²   under a clear sky
    cloud_share   (n,)   –      share of the sky that is covered, 0 … 1

    Returns (n,) W/m².
    Raises ValueError for a share outside 0 … 1.
    Source: Kasten & Czeplak (1980), Solar Energy 24: 177–189, eq. for total radiation.
    """
    cloud_share = np.asarray(cloud_share, float)
    if not np.all((cloud_share >= 0) & (cloud_share <= 1)):
        raise ValueError(f"cloud_share must lie between 0 and 1, not {cloud_share}")
    return clear * (1 - 0.75 * cloud_share**3.4)


def diffuse_share(clearness):
    """Share of the sunshine on level ground that comes from the whole sky.

    clearness   (n,)   –   sunshine on level ground over that above the atmosphere, ≥ 0

    Returns (n,) –, 0.165 … 1.
    Raises ValueError for a negative value.
    Source: Erbs, Klein & Duffie (1982), Solar Energy 28: 293–302.
    """
    k = np.asarray(clearness, float)
    if not np.all(k >= 0):
        raise ValueError(f"clearness must not be negative, not {clearness}")
    middle = 0.9511 - 0.1604 * k + 4.388 * k**2 - 16.638 * k**3 + 12.336 * k**4
    return np.where(k <= 0.22, 1 - 0.09 * k, np.where(k <= 0.80, middle, 0.165))


def sunlight(*, height, day_of_year, cloud_share):
    """Sunshine on a level lid and on the sides of a box whose heading is not known.

    height        (n,)   –   sine of the sun's height
    day_of_year   (n,)   –   1 … 366
    cloud_share   (n,)   –   0 … 1

    Returns Sunlight of (n,) W/m².
    Raises ValueError for what its parts refuse.
    Source: isotropic sky, Duffie & Beckman, eq. 2.15.1; an upright face that turns once round sees 1/π of the
    level component of the beam.
    """
    level = cloudy_sky(clear_sky(height), cloud_share=cloud_share)
    day = _day_angle(day_of_year)
    above = SOLAR_CONSTANT * (1 + 0.033 * np.cos(day)) * np.maximum(height, 1e-9)
    diffuse = level * diffuse_share(np.where(height > 0, level / above, 0.0))
    up = np.maximum(height, LOWEST_SUN)
    beam = np.where(height > LOWEST_SUN, (level - diffuse) / up, 0.0)
    sideways = beam * np.sqrt(1 - np.minimum(up, 1.0) ** 2) / np.pi
    return Sunlight(level, sideways + 0.5 * diffuse + 0.5 * GROUND_REFLECTANCE * level)


def _day_angle(day_of_year):
    day = np.asarray(day_of_year, float)
    if not np.all((day >= 1) & (day <= 366)):
        raise ValueError(f"day_of_year must lie between 1 and 366, not {day_of_year}")
    return 2 * np.pi * (day - 1) / 365.0
