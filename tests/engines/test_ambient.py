"""Air, sol-air and films against the handbook's figures, and what must hold for any weather."""

import numpy as np
import pytest

from coop.engines import ambient
from coop.engines.ambient import DAY, Carries, Stages, Weather

LUSAKA = {"latitude": -15.42, "longitude": 28.28}


def weather(*, maximum=(30.0, 24.0), minimum=(18.0, 10.0), cloud=0.0, days=4, day_of_year=288):
    """Two places, the lake and the plateau, alike every day."""

    def each(values):
        return np.repeat(np.asarray(values, float)[:, None], days, axis=1)

    return Weather(
        maximum=each(maximum), minimum=each(minimum), cloud_share=each((cloud, cloud)),
        latitude=np.full(2, LUSAKA["latitude"]), longitude=np.full(2, LUSAKA["longitude"]),
        day_of_year=np.full(days, day_of_year), zone_offset=7200.0,
    )  # fmt: skip


def stay(carries, *, start=0, end=0):
    return Stages(np.array([[1e9]]), np.array([start]), np.array([end]), np.array([carries]))


def expose(stages, *, closing=0.0, count=48, offset=0.0, **changes):
    return ambient.exposure(
        weather=weather(**changes), stages=stages, closing=np.array([closing]), interval=1800.0, count=count,
        offset=offset,
    )  # fmt: skip


def test_the_hours_of_a_day_follow_ashrae():
    """Lowest at 5, highest at 14 and 15 o'clock; at 9 o'clock 0.55 of the range below the maximum."""
    hours = np.array([5, 9, 14, 15, 24]) * 3600.0
    air = ambient.air_temperature(clock=hours, maximum=30.0, minimum=20.0)
    np.testing.assert_allclose(air, [20.0, 24.5, 30.0, 30.0, 21.8])
    assert ambient.air_temperature(clock=0.0, maximum=30.0, minimum=20.0) == pytest.approx(21.8)


def test_a_level_face_is_cooled_by_a_clear_sky_as_ashrae_says():
    """εΔR/ho about 3.9 K on a level face, 0 on an upright one, at ho 17 W/(m² K) and emittance 1 (ASHRAE)."""
    night = ambient.sol_air_temperature(air=20.0, sunshine=0.0, film=17.0, sky_loss=ambient.SKY_LOSS)
    assert 20.0 - night == pytest.approx(3.9, rel=0.06)
    assert ambient.sol_air_temperature(air=20.0, sunshine=0.0, film=17.0) == 20.0


def test_sol_air_adds_what_the_sun_brings():
    """t = to + α I / ho: 0.6 × 850 / 17 = 30 K."""
    assert ambient.sol_air_temperature(air=35.0, sunshine=850.0, film=17.0, absorptance=0.6) == pytest.approx(
        65.0
    )


def test_still_films_are_those_of_iso_6946():
    film = expose(stay(Carries.SHADE)).film[0, 0]
    np.testing.assert_allclose(1 / film, [0.13, 0.13, 0.13, 0.13, 0.10, 0.17])


def test_in_the_shade_every_face_stands_in_the_air():
    shade = expose(stay(Carries.SHADE))
    np.testing.assert_allclose(shade.outside, np.repeat(shade.air[..., None], 6, axis=2))
    assert shade.air.max() == pytest.approx(30.0, abs=0.1)
    assert shade.air.min() == pytest.approx(18.0, abs=0.3)


def test_the_sun_makes_the_lid_the_hottest_face_at_noon_and_a_little_cold_at_night():
    roof = expose(stay(Carries.ROOF))
    noon, night = 24, 4
    assert roof.outside[0, noon, 5] > roof.outside[0, noon, 0] > roof.air[0, noon] + 2
    assert roof.outside[0, noon, 5] > roof.air[0, noon] + 25
    assert roof.outside[0, night, 5] < roof.air[0, night]
    assert roof.outside[0, night, 0] == pytest.approx(roof.air[0, night])
    np.testing.assert_allclose(roof.outside[..., 4], roof.air)


def test_standing_in_the_sun_is_hotter_than_riding_in_it():
    assert expose(stay(Carries.SUN)).outside[0, 24, 5] > expose(stay(Carries.ROOF)).outside[0, 24, 5]


def test_clouds_never_make_the_day_hotter_or_the_night_colder():
    clear, cloudy = expose(stay(Carries.ROOF)), expose(stay(Carries.ROOF), cloud=0.9)
    day = clear.sunshine[0] > 100
    assert np.all(cloudy.outside[0, day, 5] < clear.outside[0, day, 5])
    dark = clear.sunshine[0] == 0
    assert np.all(cloudy.outside[0, dark, 5] > clear.outside[0, dark, 5])


def test_a_cabin_is_warmer_than_the_air_by_its_offset_and_knows_no_sun():
    cabin = expose(stay(Carries.CABIN), offset=6.0)
    np.testing.assert_allclose(cabin.outside, np.repeat(cabin.air[..., None] + 6.0, 6, axis=2))
    assert np.all(cabin.sunshine == 0)


def test_the_air_goes_from_one_place_to_the_other_along_the_leg():
    stages = Stages(np.array([[12 * 3600.0, 1e9]]), np.array([0, 1]), np.array([1, 1]), np.array([2, 0]))
    way, lake, plateau = (
        expose(s).air[0] for s in (stages, stay(Carries.SHADE), stay(Carries.SHADE, start=1, end=1))
    )
    assert way[0] == pytest.approx(lake[0], abs=0.3)
    assert way[11] == pytest.approx((lake[11] + plateau[11]) / 2, abs=0.3)
    np.testing.assert_allclose(way[24:], plateau[24:])


def test_stages_follow_each_other_where_their_ends_say():
    stages = Stages(
        np.array([[1800.0, 5400.0, 1e9]]), np.zeros(3, int), np.zeros(3, int), np.array([0, 2, 3])
    )
    film = expose(stages, offset=5.0).film[0, :, 0]
    np.testing.assert_allclose(film[:4], [1 / 0.13, 20.0, 20.0, 1 / 0.13])


def test_an_array_equals_its_scalars():
    closings = np.array([0.0, 7 * 3600.0, DAY])
    ends = np.array([[3600.0, 1e9], [7200.0, 1e9], [900.0, 1e9]])

    def run(rows):
        stages = Stages(ends[rows], np.array([0, 0]), np.array([0, 1]), np.array([1, 2]))
        return ambient.exposure(
            weather=weather(), stages=stages, closing=closings[rows], interval=1800.0, count=48, offset=0.0
        )

    together = run([0, 1, 2])
    for row in range(3):
        for both, one in zip(together, run([row]), strict=True):
            np.testing.assert_array_equal(both[row], one[0])


def test_weather_that_does_not_cover_the_journey_is_refused():
    with pytest.raises(ValueError, match="weather covers 4 days"):
        expose(stay(Carries.SHADE), closing=3.5 * DAY)
    with pytest.raises(ValueError, match="weather covers"):
        expose(stay(Carries.SHADE), closing=-3600.0)


@pytest.mark.parametrize(
    ("call", "name"),
    [
        (lambda: ambient.air_temperature(clock=0.0, maximum=10.0, minimum=20.0), "maximum"),
        (lambda: ambient.air_temperature(clock=0.0, maximum=np.nan, minimum=20.0), "maximum"),
        (lambda: ambient.sol_air_temperature(air=20.0, sunshine=0.0, film=0.0), "film"),
    ],
)
def test_what_makes_no_sense_is_refused_by_name(call, name):
    with pytest.raises(ValueError, match=name):
        call()
