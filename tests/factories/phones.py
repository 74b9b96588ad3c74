from datetime import UTC, datetime, timedelta

import factory
from django.contrib.auth import get_user_model

from coop.models import EnrolmentCode, Phone, PhoneToken
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.members import MemberFactory

MORNING = datetime(2026, 3, 2, 6, tzinfo=UTC)


class PhoneFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Phone

    cooperative = factory.SubFactory(CooperativeFactory)
    name = factory.Sequence(lambda n: f"Phone {n}")
    enrolled_at = MORNING


class EnrolmentCodeFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = EnrolmentCode

    cooperative = factory.SubFactory(CooperativeFactory)
    member = factory.SubFactory(MemberFactory, cooperative=factory.SelfAttribute("..cooperative"))
    digest = factory.Sequence(lambda n: f"{n:064x}")
    issued_at = MORNING
    expires_at = MORNING + timedelta(days=1)


def account_of(member):
    """The account of a member, made where there is none: nobody hashes a password for it."""
    if member.account is None:
        member.account = get_user_model().objects.create(username=f"account-{member.pk}", password="!")
        member.save()
    return member.account


def token_for(member, phone=None, **columns):
    """The words of a new token of a member, on her own phone unless one is named."""
    return token_of(member, phone, **columns)[1]


def token_of(member=None, phone=None, **columns):
    """The same as (row, words), of somebody or other unless a member is named."""
    member = member or MemberFactory()
    phone = phone or PhoneFactory(cooperative=member.cooperative)
    columns.setdefault("expiry", timedelta(days=30))
    return PhoneToken.objects.create(account_of(member), phone=phone, **columns)
