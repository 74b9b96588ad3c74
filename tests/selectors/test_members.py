import pytest

from coop.selectors.members import members_of
from tests.factories.members import FellowFactory, OwnerFactory, StrangerFactory

pytestmark = pytest.mark.django_db


def test_an_owner_sees_fellows_and_no_stranger():
    owner, fellow = OwnerFactory(), FellowFactory()
    StrangerFactory()
    assert list(members_of(owner.cooperative)) == [fellow, owner]
