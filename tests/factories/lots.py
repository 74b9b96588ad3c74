from datetime import UTC, datetime

import factory

from coop.models import Lot
from tests.factories.buyers import BuyerFactory
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.members import MemberFactory
from tests.factories.routes import RouteFactory
from tests.factories.species import SpeciesFactory


class LotFactory(factory.django.DjangoModelFactory):
    """20 kg that were ready on the day before the Monday on which the tests send fish."""

    class Meta:
        model = Lot

    cooperative = factory.SubFactory(CooperativeFactory)
    member = factory.SubFactory(MemberFactory, cooperative=factory.SelfAttribute("..cooperative"))
    route = factory.SubFactory(RouteFactory, cooperative=factory.SelfAttribute("..cooperative"))
    buyer = factory.SubFactory(BuyerFactory, cooperative=factory.SelfAttribute("..cooperative"))
    species = factory.SubFactory(SpeciesFactory)
    mass_kg = 20.0
    frozen_since = datetime(2026, 2, 28, 6, tzinfo=UTC)
    ready_at = datetime(2026, 3, 1, 6, tzinfo=UTC)
    start_temperature_c = -18.0
    offered_by = factory.SelfAttribute("member")
    offered_at = datetime(2026, 3, 1, 7, tzinfo=UTC)
