from datetime import date

import pytest

from coop.selectors.materials import material_prices_of, materials_of, price_on
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.materials import MaterialPriceFactory
from tests.selectors.queries import questions, same_for_many

pytestmark = pytest.mark.django_db

NEW_YEAR = date(2026, 1, 1)


def test_materials_come_with_their_prices_in_a_fixed_number_of_questions():
    cooperative = CooperativeFactory()
    same_for_many(
        lambda: MaterialPriceFactory(material__cooperative=cooperative),
        lambda: [price_on(material, NEW_YEAR).amount_minor for material in materials_of(cooperative)],
        most=2,
    )


def test_the_price_of_a_day_is_found_without_a_question():
    old = MaterialPriceFactory(valid_from=date(2025, 1, 1), valid_until=NEW_YEAR)
    new = MaterialPriceFactory(material=old.material, valid_from=NEW_YEAR)
    [material] = materials_of(old.material.cooperative)
    days = (date(2024, 12, 31), date(2025, 1, 1), date(2025, 12, 31), NEW_YEAR)
    assert [price_on(material, day) for day in days] == [None, old, old, new]
    assert questions(lambda: price_on(material, NEW_YEAR)) == 0


def test_prices_come_newest_first_and_not_to_a_stranger():
    old = MaterialPriceFactory(valid_from=date(2025, 1, 1), valid_until=NEW_YEAR)
    new = MaterialPriceFactory(material=old.material, valid_from=NEW_YEAR)
    assert list(material_prices_of(old.material.cooperative)) == [new, old]
    assert not material_prices_of(CooperativeFactory()).exists()
    assert not materials_of(CooperativeFactory()).exists()
