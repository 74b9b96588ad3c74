import pytest

from tests.factories.cooperatives import CooperativeFactory
from tests.factories.members import OwnerFactory
from tests.models.refusals import refused, twin

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
