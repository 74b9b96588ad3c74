"""What part of a parcel's fish would cost by itself: the cheapest safe consignment, never more than all."""

from datetime import timedelta

import numpy as np
import pytest

from coop.selectors.cartons import carton_designs_of
from coop.selectors.coalition_costs import MOST_MASSES, CoalitionCosts, cheapest_alone, ways_to_send
from coop.selectors.cost import bill_of, prices_for
from coop.selectors.departure_slots import rows_of
from coop.selectors.safe_fills import safe_fills
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.scene import another_vehicle, fares, thin_carton, trade
from tests.selectors.asking import MONDAY, question
from tests.selectors.shared_carton import SHORT_WAY

pytestmark = pytest.mark.django_db


@pytest.fixture
def shore():
    found = trade(CooperativeFactory(), leg=SHORT_WAY, carrier={"carton_places": 2})
    found.prices = prices_for(found.cooperative, found.route, found.buyer, None)
    found.designs = tuple(carton_designs_of(found.cooperative))
    return found


class Told:
    """Fills that are safe from a mass on, without a journey; it counts how often it is asked."""

    def __init__(self, departures, safe_kg):
        self.departures, self.safe_kg, self.asked = departures, safe_kg, 0

    def is_safe(self, departure, design, mass_kg):
        self.asked += 1
        return mass_kg >= self.safe_kg

    def safe_from(self, departure, design, masses_kg):
        return min((mass for mass in masses_kg if self.is_safe(departure, design, mass)), default=np.inf)


def fills_of(shore, **terms):
    asked = question(shore, **terms)
    return safe_fills(asked, rows_of(asked), (shore.species,))


def costs(shore, *, safe_kg=0.0, mass_kg=150.0, bill_minor=10**6):
    [departure] = fills_of(shore).departures
    told = Told([departure], safe_kg)
    return CoalitionCosts(shore.prices, shore.designs, told, departure, mass_kg, bill_minor)


def total(shore, mass_kg, cartons):
    return bill_of(
        shore.prices,
        carrier=shore.carrier,
        design=shore.design,
        mass_kg=mass_kg,
        cartons=cartons,
        day=MONDAY,
    ).cost.total


def test_a_mass_costs_its_bill_in_the_fewest_cartons(shore):
    found = costs(shore).of_masses([40.0, 150.0])
    assert found.tolist() == [total(shore, 40.0, 1), total(shore, 150.0, 2)]


def test_less_never_costs_more_and_nothing_more_than_the_bill(shore):
    masses = np.arange(6.0, 200.0, 1.0)
    found = costs(shore, mass_kg=200.0, bill_minor=90_000).of_masses(masses)
    assert (np.diff(found) >= 0).all()
    assert found.max() == 90_000
    assert (found < 90_000).any()


def test_too_little_to_stay_hard_pays_for_what_would_be_enough(shore):
    found = costs(shore, safe_kg=50.0).of_masses([10.0, 30.0, 60.0])
    assert found.tolist() == [total(shore, 60.0, 1)] * 3


def test_where_nothing_is_safe_or_the_departure_is_gone_it_pays_the_bill_of_all(shore):
    unsafe = costs(shore, safe_kg=500.0, bill_minor=70_000)
    assert unsafe.of_masses([10.0, 60.0]).tolist() == [70_000, 70_000]
    gone = CoalitionCosts(shore.prices, shore.designs, unsafe.fills, None, 60.0, 70_000)
    assert gone.of_masses([10.0, 60.0]).tolist() == [70_000, 70_000]


def test_many_masses_are_billed_as_the_next_of_some_steps(shore):
    many = costs(shore, mass_kg=100.0)
    masses = np.linspace(10.0, 100.0, 2000)
    found = many.of_masses(masses)
    assert len(many.found) <= MOST_MASSES
    for mass, cost in zip(masses[::400], found[::400], strict=True):
        step = 100.0 / MOST_MASSES
        assert total(shore, mass, 1) <= cost + 2 <= total(shore, min(100.0, mass + step), 1) + 900


def test_a_vehicle_without_places_and_a_design_without_a_price_are_no_way(shore):
    ways = ways_to_send(shore.prices, shore.designs, carrier=shore.carrier, mass_kg=250.0, day=MONDAY)
    assert ways == []
    row = shore.designs[0].materials.all()[0]
    row.material.prices.all().delete()
    assert (
        ways_to_send(
            prices_for(shore.cooperative, shore.route, shore.buyer, None),
            tuple(carton_designs_of(shore.cooperative)),
            carrier=shore.carrier,
            mass_kg=50.0,
            day=MONDAY,
        )
        == []
    )


def test_alone_is_the_cheapest_safe_way_of_all_departures(shore):
    cheap = another_vehicle(shore, 9)
    tariff = fares(shore.cooperative, cheap.carrier, shore.route, amount_minor=12_000)
    prices = prices_for(shore.cooperative, shore.route, shore.buyer, None)
    fills = fills_of(shore, days=2)
    terms = {"mass_kg": 40.0, "ready_at": fills.departures[0].slot.closes_at}
    assert cheapest_alone(prices, shore.designs, fills, **terms) == total(shore, 40.0, 1) - 18_000
    # Fish that is ready after the last 09:00 has only the dearer vehicle of the last afternoon.
    terms["ready_at"] = fills.departures[-1].slot.closes_at
    assert cheapest_alone(prices, shore.designs, fills, **terms) == total(shore, 40.0, 1)
    terms["ready_at"] += timedelta(seconds=1)
    assert cheapest_alone(prices, shore.designs, fills, **terms) is None
    assert tariff.rules.count() == 1


def test_alone_a_cheap_carton_that_lets_the_fish_soften_is_passed_over():
    shore = trade(CooperativeFactory(), leg={"distance_km": 500, "hours_mean": 9.0, "hours_floor": 7.0})
    thin = thin_carton(shore.cooperative)
    thin.materials.get(use="insulation").material.prices.update(amount_minor=1)
    prices = prices_for(shore.cooperative, shore.route, shore.buyer, None)
    designs = tuple(carton_designs_of(shore.cooperative))
    cheapest = ways_to_send(prices, designs, carrier=shore.carrier, mass_kg=90.0, day=MONDAY)[0]
    assert cheapest.design == thin
    fills = fills_of(shore)
    found = cheapest_alone(prices, designs, fills, mass_kg=90.0, ready_at=fills.departures[0].slot.closes_at)
    shore.prices = prices
    assert found == total(shore, 90.0, 1) > cheapest.total_minor
