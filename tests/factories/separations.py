import factory

from coop.models import Separation
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.species import SpeciesFactory


class SeparationFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Separation

    cooperative = factory.SubFactory(CooperativeFactory)
    one = factory.SubFactory(SpeciesFactory)
    other = factory.SubFactory(SpeciesFactory)
