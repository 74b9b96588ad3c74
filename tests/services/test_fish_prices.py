from datetime import UTC, date, datetime

import pytest

from coop.errors import Invalid
from coop.models import FishPrice
from coop.selectors.prices import fish_price_on
from coop.services.fish_prices import change_fish_price
from tests.factories.members import MemberFactory
from tests.factories.species import SpeciesFactory

pytestmark = pytest.mark.django_db
NOW, TODAY = datetime(2026, 3, 2, 8, tzinfo=UTC), date(2026, 3, 2)


def test_a_species_without_a_price_gets_one_and_soft_fish_never_fetches_more():
    manager, species = MemberFactory(role="manager"), SpeciesFactory()
    prices = {"bought_minor_per_kg": 1, "sold_minor_per_kg": 3}
    asked = {"by": manager, "species": species, "valid_from": TODAY, "now": NOW, **prices}
    with pytest.raises(Invalid, match="does not fetch more"):
        change_fish_price(soft_minor_per_kg=4, **asked)
    assert FishPrice.objects.count() == 0
    row = change_fish_price(soft_minor_per_kg=2, **asked)
    assert fish_price_on(manager.cooperative, species, TODAY) == row
