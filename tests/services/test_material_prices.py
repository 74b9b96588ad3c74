from datetime import UTC, date, datetime

import pytest

from coop.errors import NotFound
from coop.selectors.materials import materials_of, price_on
from coop.services.material_prices import change_material_price
from tests.factories.materials import MaterialFactory, MaterialPriceFactory
from tests.factories.members import MemberFactory

pytestmark = pytest.mark.django_db
NOW, TODAY, TOMORROW = datetime(2026, 3, 2, 8, tzinfo=UTC), date(2026, 3, 2), date(2026, 3, 3)


def test_a_material_costs_something_else_from_a_day_on_and_a_strangers_is_not_known():
    old = MaterialPriceFactory(amount_minor=800)
    manager = MemberFactory(cooperative=old.material.cooperative, role="manager")
    asked = {"by": manager, "valid_from": TOMORROW, "amount_minor": 950, "now": NOW}
    change_material_price(material=old.material, **asked)
    [material] = materials_of(manager.cooperative)
    assert [price_on(material, day).amount_minor for day in (TODAY, TOMORROW)] == [800, 950]
    with pytest.raises(NotFound):
        change_material_price(material=MaterialFactory(), **asked)
