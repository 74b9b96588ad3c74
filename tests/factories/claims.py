from datetime import UTC, datetime

import factory

from coop.models import Claim, ClaimPart
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.members import MemberFactory
from tests.factories.shares import ClosedParcelFactory


class ClaimFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Claim

    cooperative = factory.SubFactory(CooperativeFactory)
    parcel = factory.SubFactory(ClosedParcelFactory, cooperative=factory.SelfAttribute("..cooperative"))
    kind = "softened"
    raised_by = factory.SubFactory(MemberFactory, cooperative=factory.SelfAttribute("..cooperative"))
    raised_at = datetime(2026, 3, 4, 9, tzinfo=UTC)


class ClaimPartFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = ClaimPart

    claim = factory.SubFactory(ClaimFactory)
    member = factory.SelfAttribute("claim.raised_by")
    claimed_minor = 30_000
