import pytest

from tests.factories.cooperatives import CooperativeFactory
from tests.factories.freezers import FreezerFactory
from tests.models.refusals import refused, twin

pytestmark = pytest.mark.django_db


def test_a_freezer_has_one_short_name_in_a_cooperative():
    freezer = FreezerFactory()
    with refused("coop_freezer.cooperative_id|freezer_slug_once_in_a_cooperative"):
        twin(freezer)
    twin(freezer, cooperative=CooperativeFactory())
