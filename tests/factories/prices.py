from datetime import date

import factory

from coop.models import FishPrice
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.species import SpeciesFactory


class FishPriceFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = FishPrice

    cooperative = factory.SubFactory(CooperativeFactory)
    species = factory.SubFactory(SpeciesFactory)
    bought_minor_per_kg = 3000
    sold_minor_per_kg = 5500
    soft_minor_per_kg = 2500
    valid_from = date(2025, 1, 1)
    confirmed_on = date(2025, 1, 1)
