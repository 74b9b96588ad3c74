"""People keep their roles: an owner, a fellow member, a stranger of another cooperative."""

from datetime import date

import factory

from coop.models import Member
from tests.factories.cooperatives import CooperativeFactory


class MemberFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Member

    cooperative = factory.SubFactory(CooperativeFactory)
    name = factory.Sequence(lambda n: f"Member {n}")
    joined_on = date(2024, 1, 20)


class OwnerFactory(MemberFactory):
    cooperative = factory.SubFactory(CooperativeFactory, slug="shore")
    name = "Owner"


class FellowFactory(OwnerFactory):
    name = "Fellow"


class StrangerFactory(MemberFactory):
    cooperative = factory.SubFactory(CooperativeFactory, slug="far")
    name = "Stranger"
