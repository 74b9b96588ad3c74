from datetime import date

import factory

from coop.models import Climate, DayWeather, Place
from tests.factories.cooperatives import CooperativeFactory


class PlaceFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Place
        django_get_or_create = ("code",)

    code = factory.Sequence(lambda n: f"place-{n}")
    name = factory.LazyAttribute(lambda it: it.code.title())
    country = "ZM"
    latitude_deg = -10.0
    longitude_deg = 31.0
    altitude_m = 1300.0
    time_zone = "Africa/Lusaka"


class ClimateFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Climate

    place = factory.SubFactory(PlaceFactory)
    month = factory.Sequence(lambda n: n % 12 + 1)
    temperature_max_c = 29.0
    temperature_min_c = 17.0
    cloud_share = 0.5


class ClimaticPlaceFactory(PlaceFactory):
    """A place with its twelve months."""

    class Meta:
        skip_postgeneration_save = True

    @factory.post_generation
    def months(self, create, _extracted, **_options):
        if create:
            for month in range(1, 13):
                ClimateFactory(place=self, month=month)


class DayWeatherFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = DayWeather

    cooperative = factory.SubFactory(CooperativeFactory)
    place = factory.SubFactory(PlaceFactory)
    date = date(2026, 3, 2)
    temperature_max_c = 31.0
    temperature_min_c = 18.0
    kind = "observed"
