"""The cost of one weight after the other, on the factories' round figures."""

from datetime import date

import pytest

from coop.selectors.cost import bill_of, ladder_of, prices_for
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.scene import trade
from tests.factories.tariffs import TariffRuleFactory, TariffStepFactory

pytestmark = pytest.mark.django_db

MONDAY = date(2026, 3, 2)


@pytest.fixture
def shore():
    return trade(CooperativeFactory())


def ladder(shore, **terms):
    prices = prices_for(shore.cooperative, shore.route, shore.buyer, shore.species)
    asked = {"capacity_kg": 100.5, "most_cartons": 2, "day": MONDAY} | terms
    return ladder_of(prices, carrier=shore.carrier, design=shore.design, **asked)


def test_a_ladder_climbs_from_a_carton_hardly_begun_to_the_last_place(shore):
    rungs, _ = ladder(shore)
    assert [float(rung.mass) for rung in rungs] == [float(kg) for kg in range(10, 205, 5)]
    assert [rung.cartons for rung in rungs if rung.mass in (100, 105, 200)] == [1, 2, 2]


def test_each_rung_is_the_bill_of_its_weight(shore):
    rungs, _ = ladder(shore, softened_share=0.02, with_fish=True)
    for rung in rungs[::9]:
        alone = bill_of(
            prices_for(shore.cooperative, shore.route, shore.buyer, shore.species),
            carrier=shore.carrier,
            design=shore.design,
            mass_kg=float(rung.mass),
            cartons=rung.cartons,
            day=MONDAY,
            softened_share=0.02,
            with_fish=True,
        )
        assert rung.total == alone.cost.total


def test_the_ladder_breaks_where_a_carton_or_a_step_begins(shore):
    shore.tariff.rules.all().delete()
    steps = TariffRuleFactory(tariff=shore.tariff, position=1, kind="by_step", amount_minor=0)
    for from_kg, amount in ((0, 9000), (100, 21_000), (200, 40_000)):
        TariffStepFactory(rule=steps, from_kg=from_kg, amount_minor=amount)
    rungs, _ = ladder(shore)
    breaks = {float(rung.mass) for rung in rungs if rung.is_break}
    second_carton = 105.0
    assert second_carton in breaks
    # Shavings and board weigh 73.5 kg, less 0.283 kg for each kilogram of fish: 100 kg gross with 37 kg.
    assert 40.0 in breaks
    assert 10.0 not in breaks


def test_it_pays_from_the_weight_at_which_a_kilogram_costs_what_it_earns(shore):
    rungs, pays_from = ladder(shore)
    earned = 5500 - 3000
    assert pays_from == next(rung.mass for rung in rungs if rung.per_kilogram <= earned)
    _, bought = ladder(shore, with_fish=True)
    assert bought == pays_from
    shore.fish_price.delete()
    rungs, unknown = ladder(shore)
    assert rungs
    assert unknown is None


def test_without_a_fare_there_is_no_ladder(shore):
    shore.tariff.delete()
    assert ladder(shore) == ((), None)
