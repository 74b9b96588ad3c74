import pytest

from tests.factories.materials import MaterialFactory, MaterialPriceFactory, SackFactory
from tests.models.refusals import change, refused, twin

pytestmark = pytest.mark.django_db


def test_a_sack_has_room_and_nothing_else_has():
    with refused("material_sack_has_a_volume"):
        change(SackFactory(), sack_volume_m3=None)
    with refused("material_sack_has_a_volume"):
        change(MaterialFactory(), sack_volume_m3=0.1)


def test_a_negative_price_is_refused():
    with refused("material_price_amount_minor_range"):
        change(MaterialPriceFactory(), amount_minor=-1)
    change(MaterialPriceFactory(), amount_minor=0)


def test_a_short_name_is_taken_once_in_a_cooperative():
    with refused("coop_material.slug|material_slug_once_in_a_cooperative"):
        twin(MaterialFactory())


def test_a_material_goes_with_its_prices():
    price = MaterialPriceFactory()
    price.material.delete()
    assert type(price).objects.count() == 0
