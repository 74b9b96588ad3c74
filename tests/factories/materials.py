from datetime import date

import factory

from coop.models import Material, MaterialPrice
from tests.factories.cooperatives import CooperativeFactory


class MaterialFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Material

    cooperative = factory.SubFactory(CooperativeFactory)
    slug = factory.Sequence(lambda n: f"material-{n}")
    name = factory.LazyAttribute(lambda it: it.slug.title())
    unit = "piece"


class SackFactory(MaterialFactory):
    unit = "sack"
    sack_volume_m3 = 0.1


class MaterialPriceFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = MaterialPrice

    material = factory.SubFactory(MaterialFactory)
    amount_minor = 800
    valid_from = date(2025, 1, 1)
    confirmed_on = date(2025, 1, 1)
