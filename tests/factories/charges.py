from datetime import date

import factory

from coop.models import Charge
from tests.factories.cooperatives import CooperativeFactory


class ChargeFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Charge

    cooperative = factory.SubFactory(CooperativeFactory)
    kind = "levy"
    name = factory.Sequence(lambda n: f"Levy {n}")
    basis = "kilogram"
    amount_minor = 50
    valid_from = date(2025, 1, 1)
    confirmed_on = date(2025, 1, 1)
