import pytest

from coop.selectors.carriers import carriers_of
from tests.factories.carriers import CarrierFactory

pytestmark = pytest.mark.django_db


def test_a_cooperative_sees_its_own_carriers():
    own, _ = CarrierFactory(), CarrierFactory()
    assert list(carriers_of(own.cooperative)) == [own]
