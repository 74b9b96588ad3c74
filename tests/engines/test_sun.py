"""The sun's position and light against pvlib, and published points."""

import numpy as np
import pandas as pd
import pvlib
import pytest

from coop.engines import sun

DAYS = np.arange(1, 366)


def test_declination_is_spencers_series():
    expected = pvlib.solarposition.declination_spencer71(DAYS)
    np.testing.assert_allclose(sun.declination(DAYS), expected, atol=1e-9)


def test_the_equation_of_time_is_spencers_series():
    expected = 60 * pvlib.solarposition.equation_of_time_spencer71(DAYS)
    # pvlib prints the first coefficient with one digit more.
    np.testing.assert_allclose(sun.equation_of_time(DAYS), expected, atol=0.5)


@pytest.mark.parametrize(
    ("latitude", "longitude"), [(-8.76, 31.11), (-15.42, 28.28), (51.5, -0.1), (0.0, 0.0)]
)
@pytest.mark.parametrize("date", ["2026-01-17", "2026-06-11", "2026-10-15", "2026-12-21"])
def test_the_sun_stands_where_the_almanac_has_it(latitude, longitude, date):
    """pvlib's NREL algorithm is good to 0.0003°; Spencer's series to about 0.4° in height."""
    times = pd.date_range(date, periods=48, freq="30min", tz="Africa/Lusaka")
    expected = pvlib.solarposition.get_solarposition(times, latitude, longitude)["elevation"].to_numpy()
    height = sun.sun_height(
        day_of_year=times.day_of_year.to_numpy(),
        clock=(times.hour * 3600 + times.minute * 60).to_numpy(),
        zone_offset=7200.0,
        latitude=latitude,
        longitude=longitude,
    )
    np.testing.assert_allclose(np.degrees(np.arcsin(height)), expected, atol=0.6)


def test_a_clear_sky_is_haurwitz():
    """Zenith 0, 30, 60, 80°: 1035, 888, 488, 136 W/m² (Haurwitz 1945, as pvlib codes it)."""
    zenith = np.array([0.0, 30.0, 60.0, 80.0])
    ours = sun.clear_sky(np.cos(np.radians(zenith)))
    np.testing.assert_allclose(ours, [1035, 888, 488, 136], atol=0.7)
    np.testing.assert_allclose(ours, pvlib.clearsky.haurwitz(pd.Series(zenith))["ghi"], rtol=1e-9)


def test_the_diffuse_share_is_erbs():
    clearness = np.linspace(0.05, 0.95, 37)
    expected = pvlib.irradiance.erbs(
        ghi=clearness * 1000.0, zenith=np.zeros(37), datetime_or_doy=100, min_cos_zenith=0.065
    )
    extra = pvlib.irradiance.get_extra_radiation(100)
    ours = sun.diffuse_share(np.asarray(clearness * 1000.0 / extra))
    np.testing.assert_allclose(ours, expected["dhi"] / (clearness * 1000.0), rtol=1e-6)


def test_an_overcast_sky_lets_a_quarter_through():
    """Kasten & Czeplak (1980): a quarter of the clear-sky sunshine is left under eight oktas."""
    assert sun.cloudy_sky(1000.0, cloud_share=1.0) == pytest.approx(250.0)
    assert sun.cloudy_sky(1000.0, cloud_share=0.0) == 1000.0


def test_the_mean_day_of_each_month_has_kleins_declination():
    """Klein (1977), Solar Energy 19: 325–329, table 1, declinations, from memory.

    He used Cooper's formula, which Spencer's series, closer to the almanac, leaves by up to 1.4° in autumn.
    """
    klein = [-20.9, -13.0, -2.4, 9.4, 18.8, 23.1, 21.2, 13.5, 2.2, -9.6, -18.9, -23.0]
    cooper = np.degrees(pvlib.solarposition.declination_cooper69(sun.MEAN_DAY))
    np.testing.assert_allclose(cooper, klein, atol=0.06)
    np.testing.assert_allclose(np.degrees(sun.declination(sun.MEAN_DAY)), klein, atol=1.5)


def test_an_upright_side_gets_what_it_gets_on_average_over_all_headings():
    height, day = np.sin(np.radians(40.0)), 200
    light = sun.sunlight(height=height, day_of_year=day, cloud_share=0.2)
    headings = np.arange(0, 360, 1.0)
    above = sun.SOLAR_CONSTANT * (1 + 0.033 * np.cos(2 * np.pi * (day - 1) / 365)) * height
    diffuse = light.level * sun.diffuse_share(light.level / above)
    faces = pvlib.irradiance.get_total_irradiance(
        surface_tilt=90, surface_azimuth=headings, solar_zenith=50.0, solar_azimuth=0.0,
        dni=(light.level - diffuse) / height, ghi=light.level, dhi=diffuse, albedo=0.2,
    )  # fmt: skip
    assert light.upright == pytest.approx(np.mean(faces["poa_global"]), rel=1e-3)


def test_nights_are_dark():
    light = sun.sunlight(height=np.array([-0.5, 0.0]), day_of_year=100, cloud_share=0.5)
    assert np.all(light.level == 0)
    assert np.all(light.upright == 0)


def test_an_array_equals_its_scalars():
    heights = np.linspace(-0.2, 1.0, 13)
    together = sun.sunlight(height=heights, day_of_year=100, cloud_share=0.3)
    for n, height in enumerate(heights):
        alone = sun.sunlight(height=height, day_of_year=100, cloud_share=0.3)
        assert (together.level[n], together.upright[n]) == (alone.level, alone.upright)


@pytest.mark.parametrize(
    ("call", "name"),
    [
        (lambda: sun.declination(0), "day_of_year"),
        (lambda: sun.declination(np.nan), "day_of_year"),
        (lambda: sun.clear_sky(1.5), "height"),
        (lambda: sun.cloudy_sky(100.0, cloud_share=1.2), "cloud_share"),
        (lambda: sun.diffuse_share(-0.1), "clearness"),
        (lambda: sun.sun_height(day_of_year=1, clock=0, zone_offset=0, latitude=95, longitude=0), "latitude"),
        (
            lambda: sun.sun_height(day_of_year=1, clock=0, zone_offset=0, latitude=9, longitude=200),
            "longitude",
        ),
    ],
)
def test_what_makes_no_sense_is_refused_by_name(call, name):
    with pytest.raises(ValueError, match=name):
        call()
