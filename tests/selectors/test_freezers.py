import pytest

from coop.selectors.freezers import freezers_of
from tests.factories.freezers import FreezerFactory

pytestmark = pytest.mark.django_db


def test_a_cooperative_sees_its_own_freezers():
    own, _ = FreezerFactory(), FreezerFactory()
    assert list(freezers_of(own.cooperative)) == [own]
