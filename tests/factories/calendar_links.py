from datetime import UTC, datetime

import factory

from coop.models import CalendarLink
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.members import MemberFactory


class CalendarLinkFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = CalendarLink

    cooperative = factory.SubFactory(CooperativeFactory)
    member = factory.SubFactory(MemberFactory, cooperative=factory.SelfAttribute("..cooperative"))
    secret_digest = factory.Sequence(lambda n: f"{n:064x}")
    created_at = datetime(2026, 3, 1, 6, tzinfo=UTC)
