from datetime import date

import pytest

from coop.selectors.prices import fish_price_on, fish_prices_of
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.prices import FishPriceFactory
from tests.factories.species import SpeciesFactory
from tests.selectors.queries import same_for_many

pytestmark = pytest.mark.django_db

NEW_YEAR = date(2026, 1, 1)


def test_prices_come_with_their_species_in_one_question():
    cooperative = CooperativeFactory()
    same_for_many(
        lambda: FishPriceFactory(cooperative=cooperative),
        lambda: [price.species.name_en for price in fish_prices_of(cooperative)],
        most=1,
    )


def test_the_price_of_a_species_on_a_day():
    old = FishPriceFactory(valid_from=date(2025, 1, 1), valid_until=NEW_YEAR)
    new = FishPriceFactory(cooperative=old.cooperative, species=old.species, valid_from=NEW_YEAR)
    FishPriceFactory(species=old.species, valid_from=NEW_YEAR)
    assert fish_price_on(old.cooperative, old.species, date(2025, 12, 31)) == old
    assert fish_price_on(old.cooperative, old.species, NEW_YEAR) == new
    assert fish_price_on(old.cooperative, old.species, date(2024, 12, 31)) is None
    assert fish_price_on(old.cooperative, SpeciesFactory(), NEW_YEAR) is None
