from datetime import UTC, datetime
from uuid import uuid4

import factory

from coop.models import Write
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.members import MemberFactory


class WriteFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Write

    cooperative = factory.SubFactory(CooperativeFactory)
    member = factory.SubFactory(MemberFactory, cooperative=factory.SelfAttribute("..cooperative"))
    key = factory.LazyFunction(uuid4)
    fingerprint = "f" * 64
    status = 200
    body = "{}"
    made_at = datetime(2026, 3, 1, 6, tzinfo=UTC)
