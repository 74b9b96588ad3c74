import factory

from coop.models import Freezer
from tests.factories.cooperatives import CooperativeFactory


class FreezerFactory(factory.django.DjangoModelFactory):
    """A chest freezer."""

    class Meta:
        model = Freezer

    cooperative = factory.SubFactory(CooperativeFactory)
    slug = factory.Sequence(lambda n: f"freezer-{n}")
    name = factory.LazyAttribute(lambda it: it.slug.title())
    air_temperature_c = -22.0
    film_w_m2_k = 8.0
    freezing_kg_per_day = 40.0
    coefficient_of_performance = 1.1
    standing_w = 90.0
    holds_kg = 250.0
