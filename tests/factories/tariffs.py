from datetime import date

import factory

from coop.models import Tariff, TariffRule, TariffStep
from tests.factories.carriers import CarrierFactory
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.routes import RouteFactory


class TariffFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Tariff

    cooperative = factory.SubFactory(CooperativeFactory)
    carrier = factory.SubFactory(CarrierFactory, cooperative=factory.SelfAttribute("..cooperative"))
    route = factory.SubFactory(RouteFactory, cooperative=factory.SelfAttribute("..cooperative"))
    valid_from = date(2025, 1, 1)
    confirmed_on = date(2025, 1, 1)


class TariffRuleFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = TariffRule

    tariff = factory.SubFactory(TariffFactory)
    position = factory.Sequence(lambda n: n % 99 + 1)
    kind = "per_carton"
    amount_minor = 30_000


class ByStepRuleFactory(TariffRuleFactory):
    kind = "by_step"
    amount_minor = 0


class TariffStepFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = TariffStep

    rule = factory.SubFactory(ByStepRuleFactory)
    from_kg = factory.Sequence(lambda n: float(n * 10))
    amount_minor = 9_000
