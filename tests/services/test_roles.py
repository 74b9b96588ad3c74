import pytest

from coop.errors import NotAllowed, NotFound
from coop.services.roles import packs, require_manager, require_own, require_packer
from tests.factories.members import FellowFactory, MemberFactory, OwnerFactory, StrangerFactory

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(
    ("role", "may_pack", "may_manage"),
    [("member", False, False), ("packer", True, False), ("manager", True, True)],
)
def test_a_packer_packs_and_a_manager_manages_too(role, may_pack, may_manage):
    member = MemberFactory(role=role)
    assert packs(member) == may_pack
    for require, may in ((require_packer, may_pack), (require_manager, may_manage)):
        if may:
            require(member, "do this")
        else:
            with pytest.raises(NotAllowed, match="do this"):
                require(member, "do this")


def test_a_row_of_another_cooperative_is_as_missing_as_none():
    owner = OwnerFactory()
    require_own(owner, FellowFactory(), owner)
    with pytest.raises(NotFound, match="no such member"):
        require_own(owner, StrangerFactory())
