import pytest
from django.core.exceptions import ValidationError
from django.db.models import ProtectedError

from tests.factories.places import ClimateFactory, ClimaticPlaceFactory, DayWeatherFactory, PlaceFactory
from tests.factories.routes import RouteFactory
from tests.models.refusals import change, refused, twin

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(
    ("factory", "name"),
    [
        (ClimateFactory, "climate_maximum_not_below_minimum"),
        (DayWeatherFactory, "day_weather_maximum_not_below_minimum"),
    ],
)
def test_a_maximum_below_the_minimum_is_refused(factory, name):
    row = factory(temperature_max_c=20, temperature_min_c=20)
    with refused(name):
        change(row, temperature_max_c=19.9)
    row.temperature_max_c = 19.9
    with pytest.raises(ValidationError, match="maximum is not below the minimum"):
        row.full_clean()


def test_a_place_has_each_month_once():
    climate = ClimateFactory(month=3)
    with refused("coop_climate.month|climate_once_a_month"):
        twin(climate, temperature_max_c=30)


def test_a_day_is_observed_once_and_forecast_once():
    day = DayWeatherFactory(kind="observed")
    twin(day, kind="forecast")
    with refused("coop_dayweather.kind|day_weather_once_a_day_and_kind"):
        twin(day, temperature_max_c=35)


def test_a_code_names_one_place():
    place = PlaceFactory()
    with refused("coop_place.code|coop_place_code"):
        twin(place, name="Elsewhere")


@pytest.mark.parametrize("name", ["Africa/Nowhere", "", "UTC+2"])
def test_a_time_zone_that_nobody_keeps_is_refused(name):
    with pytest.raises(ValidationError) as failure:
        PlaceFactory.build(time_zone=name).full_clean()
    assert "time_zone" in failure.value.message_dict


@pytest.mark.parametrize("country", ["zm", "Z", "Z1", "ZMB"])
def test_a_country_is_two_letters(country):
    with pytest.raises(ValidationError):
        PlaceFactory.build(country=country).full_clean()


def test_a_place_goes_with_its_climate_but_not_while_a_route_leads_there():
    place = ClimaticPlaceFactory()
    assert place.climates.count() == 12
    route = RouteFactory(origin=place)
    with pytest.raises(ProtectedError):
        place.delete()
    route.delete()
    place.delete()
    assert type(place).objects.filter(pk=place.pk).count() == 0
