from datetime import UTC, date, datetime

import factory

from coop.models import Entry
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.members import MemberFactory


class EntryFactory(factory.django.DjangoModelFactory):
    """A member paid in 100 kwacha."""

    class Meta:
        model = Entry

    cooperative = factory.SubFactory(CooperativeFactory)
    member = factory.SubFactory(MemberFactory, cooperative=factory.SelfAttribute("..cooperative"))
    kind = "payment"
    amount_minor = -10_000
    noted_on = date(2026, 3, 5)
    written_by = factory.SelfAttribute("member")
    written_at = datetime(2026, 3, 5, 9, tzinfo=UTC)
