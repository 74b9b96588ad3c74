from datetime import UTC, date, datetime

import factory

from coop.models import Plan
from tests.factories.buyers import BuyerFactory
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.members import MemberFactory
from tests.factories.routes import RouteFactory


class PlanFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Plan

    cooperative = factory.SubFactory(CooperativeFactory)
    route = factory.SubFactory(RouteFactory, cooperative=factory.SelfAttribute("..cooperative"))
    buyer = factory.SubFactory(BuyerFactory, cooperative=factory.SelfAttribute("..cooperative"))
    first_day = date(2026, 3, 2)
    last_day = date(2026, 3, 4)
    asked_by = factory.SubFactory(MemberFactory, cooperative=factory.SelfAttribute("..cooperative"))
    asked_at = datetime(2026, 3, 1, 9, tzinfo=UTC)
    proposal = factory.LazyFunction(dict)
    cost_minor = 200_000
    bound_minor = 199_000
    gap = 0.005
