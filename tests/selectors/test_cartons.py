import pytest

from coop.selectors.cartons import carton_designs_of
from tests.factories.cartons import CartonDesignFactory, DesignMaterialFactory
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.materials import MaterialPriceFactory
from tests.selectors.queries import same_for_many

pytestmark = pytest.mark.django_db


def test_designs_come_with_materials_and_their_prices_in_a_fixed_number_of_questions():
    cooperative = CooperativeFactory()

    def make():
        row = DesignMaterialFactory(design__cooperative=cooperative)
        MaterialPriceFactory(material=row.material)

    def read():
        designs = carton_designs_of(cooperative)
        rows = [row for design in designs for row in design.materials.all()]
        assert all(price.amount_minor for row in rows for price in row.material.prices.all())

    same_for_many(make, read, most=4)


def test_a_stranger_sees_none_of_it():
    CartonDesignFactory()
    assert not carton_designs_of(CooperativeFactory()).exists()
