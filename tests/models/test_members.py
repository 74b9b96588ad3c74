from datetime import date

import pytest
from django.db.models import ProtectedError

from tests.factories.cooperatives import CooperativeFactory
from tests.factories.members import FellowFactory, OwnerFactory
from tests.factories.phones import account_of
from tests.models.refusals import change, refused, twin

pytestmark = pytest.mark.django_db


def test_a_member_stands_in_the_list_once():
    owner = OwnerFactory(phone="097 1")
    with refused("coop_member.phone|member_once_in_a_cooperative"):
        twin(owner)


def test_two_members_may_share_a_name_or_two_cooperatives_a_member():
    owner = OwnerFactory(phone="097 1")
    twin(owner, phone="097 2")
    twin(owner, cooperative=CooperativeFactory())
    assert type(owner).objects.filter(name=owner.name).count() == 3


def test_nobody_leaves_before_the_day_of_joining():
    owner = OwnerFactory()
    with refused("member_leaves_after_joining"):
        change(owner, left_on=date(2024, 1, 19))
    change(owner, left_on=owner.joined_on)


def test_an_account_is_one_members_and_stays_while_she_does():
    owner = OwnerFactory()
    account = account_of(owner)
    with refused("coop_member.account_id|member_account"):
        change(FellowFactory(), account=account)
    with pytest.raises(ProtectedError):
        account.delete()
