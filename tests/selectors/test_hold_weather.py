import pytest

from coop.engines import sun
from coop.engines.ambient import Carries
from coop.errors import Invalid
from coop.selectors.hold_weather import between, month_at
from tests.factories.places import ClimateFactory, ClimaticPlaceFactory, PlaceFactory

STANDS = {"ride": "roof", "offset_c": 0.0, "closes_at_hour": 15.0}


@pytest.mark.django_db
def test_a_month_is_that_of_the_place():
    place = PlaceFactory(latitude_deg=-8.8, longitude_deg=31.1, time_zone="Africa/Lusaka")
    ClimateFactory(place=place, month=10, temperature_max_c=33, temperature_min_c=20, cloud_share=0.4)
    found = month_at(place, 10, **STANDS)
    assert (found.maximum_c, found.minimum_c, found.cloud_share) == (33, 20, 0.4)
    assert (found.latitude_deg, found.longitude_deg, found.zone_offset) == (-8.8, 31.1, 7200.0)
    # Klein 1977, Table 1: 15 October is its mean day, the 288th of the year.
    assert found.day_of_year == 288
    assert (found.carries, found.closing_hour) == (Carries.ROOF, 15.0)


@pytest.mark.django_db
def test_a_month_without_a_climate_is_refused_with_those_that_have_one():
    place = PlaceFactory()
    ClimateFactory(place=place, month=3)
    with pytest.raises(Invalid) as failure:
        month_at(place, 4, **STANDS)
    [problem] = failure.value.problems
    assert (problem.field, problem.value) == ("month", 4)
    assert problem.right.endswith("known: 3")


@pytest.mark.django_db
@pytest.mark.parametrize("offset_c", [0.0, -30.0])
def test_weather_in_which_no_fish_is_followed_is_refused(offset_c):
    place = PlaceFactory()
    low, high = (20, 60) if offset_c == 0.0 else (-20, 0)
    ClimateFactory(place=place, month=1, temperature_min_c=low, temperature_max_c=high)
    with pytest.raises(Invalid) as failure:
        month_at(place, 1, **(STANDS | {"ride": "hold", "offset_c": offset_c}))
    assert failure.value.problems[0].field == "place"


def test_two_temperatures_are_days_with_the_sun_overhead_at_noon():
    found = between(17.0, 29.0, cloud_share=0.1, **STANDS)
    assert (found.minimum_c, found.maximum_c, found.cloud_share) == (17.0, 29.0, 0.1)
    noon = sun.sun_height(
        day_of_year=found.day_of_year,
        clock=43_200.0,
        zone_offset=found.zone_offset,
        latitude=found.latitude_deg,
        longitude=found.longitude_deg,
    )
    # The sine of its height: within 4° of the zenith.
    assert noon > 0.9975


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("ride", "carries"),
    [
        ("shade", Carries.SHADE),
        ("sun", Carries.SUN),
        ("roof", Carries.ROOF),
        ("cabin", Carries.CABIN),
        ("hold", Carries.HOLD),
    ],
)
def test_a_carton_stands_in_what_the_word_says(ride, carries):
    assert between(17.0, 29.0, cloud_share=0.5, **(STANDS | {"ride": ride})).carries == carries
    assert month_at(ClimaticPlaceFactory(), 1, **(STANDS | {"ride": ride})).carries == carries
