from datetime import date

import pytest

from coop.selectors.places import climates, day_weathers_of, places, weather_between
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.places import ClimaticPlaceFactory, DayWeatherFactory, PlaceFactory
from tests.selectors.queries import same_for_many

pytestmark = pytest.mark.django_db


def test_places_come_with_their_climate_in_a_fixed_number_of_questions():
    same_for_many(ClimaticPlaceFactory, lambda: [len(place.climates.all()) for place in places()], most=2)


def test_climates_come_by_place_and_month():
    later, earlier = ClimaticPlaceFactory(name="Mpika"), ClimaticPlaceFactory(name="Kasama")
    found = [(climate.place, climate.month) for climate in climates()]
    assert found == [(place, month) for place in (earlier, later) for month in range(1, 13)]


def test_the_weather_of_a_cooperative_is_its_own():
    own = DayWeatherFactory()
    DayWeatherFactory(place=own.place)
    assert list(day_weathers_of(own.cooperative)) == [own]


def test_an_observed_day_comes_after_its_forecast():
    cooperative, place = CooperativeFactory(), PlaceFactory()
    for day, kind in ((2, "observed"), (2, "forecast"), (3, "forecast"), (1, "observed"), (4, "observed")):
        DayWeatherFactory(cooperative=cooperative, place=place, date=date(2026, 3, day), kind=kind)
    found = weather_between(cooperative, date(2026, 3, 2), date(2026, 3, 3))
    assert [(row.date.day, row.kind) for row in found] == [(2, "forecast"), (2, "observed"), (3, "forecast")]
