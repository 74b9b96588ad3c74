"""What waiting in the freezer costs: power by the kilogram, quality by the share of its good life."""

from datetime import date
from fractions import Fraction

import pytest

from coop.selectors.cost import prices_for
from coop.selectors.terms import terms_on
from coop.selectors.waiting_costs import Store, price_drop_of, store_of
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.freezers import FreezerFactory
from tests.factories.prices import FishPriceFactory
from tests.factories.routes import RouteFactory
from tests.factories.species import SpeciesFactory

pytestmark = pytest.mark.django_db
DAY = 86_400.0
LEAN = {"fat_share": 0.006, "ash_share": 0.014}


@pytest.fixture
def cooperative():
    return CooperativeFactory(terms__electricity_price_minor_per_kwh=250)


def store_for(cooperative):
    return store_of(cooperative, start_temperature_c=-18.0, terms=terms_on(cooperative, date(2026, 3, 2)))


def test_a_freezer_of_100_watts_and_240_kilograms_keeps_20_kilograms_for_4_days_for_200(cooperative):
    """2.4 kWh a day × 250 over 240 kg are 2.5 a kilogram and day."""
    FreezerFactory(cooperative=cooperative, standing_w=100, holds_kg=240)
    store = store_for(cooperative)
    assert store.keeping == Fraction(5, 2)
    found = store.waiting_cost(mass_kg=20.0, seconds=4 * DAY, species=SpeciesFactory(), price_drop=None)
    assert (found.storage_minor, found.quality_minor, found.total_minor) == (200, None, 200)


def test_of_several_freezers_the_dearest_and_the_warmest_count(cooperative):
    FreezerFactory(cooperative=cooperative, standing_w=240, holds_kg=240, air_temperature_c=-28)
    FreezerFactory(cooperative=cooperative, standing_w=120, holds_kg=240, air_temperature_c=-20)
    FreezerFactory(standing_w=9000, air_temperature_c=-10)
    assert store_for(cooperative) == Store(-20.0, Fraction(6))


def test_without_a_freezer_the_fish_is_as_warm_as_it_is_packed_and_power_is_not_known(cooperative):
    store = store_for(cooperative)
    assert store == Store(-18.0, None)
    found = store.waiting_cost(mass_kg=20.0, seconds=DAY, species=SpeciesFactory(), price_drop=3000)
    assert found.storage_minor is None
    assert found.total_minor == found.quality_minor > 0


def test_a_month_at_minus_9_takes_the_whole_drop():
    """Love 1967: one month of good quality at −9 °C."""
    month = 365.25 / 12 * DAY
    found = Store(-9.0, None).waiting_cost(
        mass_kg=10.0, seconds=month, species=SpeciesFactory(**LEAN), price_drop=3000
    )
    assert found.quality_minor == pytest.approx(30_000, abs=1)


def test_half_that_time_takes_half_of_it_and_no_time_nothing():
    store, fish = Store(-21.0, None), SpeciesFactory(**LEAN)
    costs = [
        store.waiting_cost(mass_kg=10.0, seconds=seconds, species=fish, price_drop=3000).quality_minor
        for seconds in (0.0, 5 * DAY, 10 * DAY)
    ]
    assert costs[0] == 0
    assert costs[2] == pytest.approx(2 * costs[1], abs=1)


def test_a_store_that_is_too_warm_loses_all_at_once_and_nothing_if_it_is_not_used():
    store, fish = Store(-5.0, None), SpeciesFactory()
    assert store.waiting_cost(mass_kg=10.0, seconds=1.0, species=fish, price_drop=300).quality_minor == 3000
    assert store.waiting_cost(mass_kg=10.0, seconds=0.0, species=fish, price_drop=300).quality_minor == 0


def test_fish_loses_what_soft_fish_fetches_less_and_without_a_price_nobody_knows(cooperative):
    price = FishPriceFactory(cooperative=cooperative, sold_minor_per_kg=5500, soft_minor_per_kg=2500)
    route = RouteFactory(cooperative=cooperative)
    prices = prices_for(cooperative, route, None, price.species)
    assert price_drop_of(prices, date(2026, 3, 2)) == 3000
    assert price_drop_of(prices, date(2020, 3, 2)) is None
