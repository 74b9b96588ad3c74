import factory

from coop.models import Carrier
from tests.factories.cooperatives import CooperativeFactory


class CarrierFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Carrier

    cooperative = factory.SubFactory(CooperativeFactory)
    name = factory.Sequence(lambda n: f"Minibus {n}")
    vehicle = "minibus"
    ride = "roof"
    waits_in = "shade"
    carton_places = 6
    breakdown_chance = 0.05
    breakdown_hours_mean = 5.0
    breakdown_hours_cv = 1.0
