"""A departure as the engine of plans takes it: straight lines that meet the true bill, and only safe fish."""

from datetime import timedelta

import pytest

from coop.engines.consolidation_bill import consignment_cost
from coop.selectors.cartons import carton_designs_of
from coop.selectors.cost import bill_of_cartons, prices_for
from coop.selectors.departure_slots import rows_of
from coop.selectors.parcels import capacity_kg
from coop.selectors.plans_offers import FILLINGS, Way, offer_of
from coop.selectors.safe_fills import safe_fills
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.scene import returnable_box, trade
from tests.factories.tariffs import TariffRuleFactory
from tests.selectors.asking import MONDAY, question
from tests.selectors.shared_carton import SHORT_WAY

pytestmark = pytest.mark.django_db


def scene(**terms):
    shore = trade(CooperativeFactory(), **({"leg": SHORT_WAY} | terms))
    asked = question(shore)
    shore.fills = safe_fills(asked, rows_of(asked), (shore.species,))
    [shore.departure] = shore.fills.departures
    return shore


def offer(shore, *, drop=0, design=None, kinds=None, least_kg=0.0):
    rows = carton_designs_of(shore.cooperative)
    way = Way(shore.departure, rows.get(pk=(design or shore.design).pk))
    prices = prices_for(shore.cooperative, shore.route, shore.buyer, None)
    return way, prices, offer_of(way, prices, drop, kinds or [shore.fills], least_kg=least_kg)


def compare(shore, masses, **terms):
    """What the engine would reckon, and the true bill of these cartons."""
    way, prices, found = offer(shore, **terms)
    reckoned = consignment_cost(found, cartons=len(masses), grams=round(sum(masses) * 1000))
    bill = bill_of_cartons(
        prices, carrier=shore.carrier, design=way.design, masses_kg=masses, day=MONDAY
    ).cost.total
    return reckoned, bill


@pytest.mark.parametrize("box", [False, True])
def test_a_full_carton_costs_the_engine_what_is_really_billed(box):
    shore = scene()
    TariffRuleFactory(tariff=shore.tariff, position=2, kind="per_kilogram", amount_minor=90)
    design = returnable_box(shore.cooperative) if box else shore.design
    full = capacity_kg(design)
    for masses in ((full,), (full, full)):
        reckoned, bill = compare(shore, masses, design=design)
        # Each line is rounded once: here a line for cartons, kilograms and consignment, there one a material.
        assert reckoned == pytest.approx(bill, abs=6)


def test_between_a_half_and_a_full_carton_the_lines_are_near_the_bill():
    shore = scene()
    for mass in (60.0, 75.0, 90.0):
        reckoned, bill = compare(shore, (mass,))
        # A sack of shavings is bought whole, 800, and a bag for each 2 kg.
        assert abs(reckoned - bill) < 1000


def test_what_is_expected_to_soften_costs_its_drop_in_price():
    shore = scene(leg={"distance_km": 500, "hours_mean": 9.0, "hours_floor": 7.0})
    _, _, plain = offer(shore)
    way, _, dear = offer(shore, drop=3000)
    softens = shore.fills.softened_share(way.departure, way.design, capacity_kg(way.design))
    assert float(dear.kilogram_cost - plain.kilogram_cost) == pytest.approx(softens * 3000, abs=0.3)


def test_fish_that_would_soften_may_not_go_and_the_least_mass_is_one_that_was_judged():
    shore = scene(leg={"distance_km": 500, "hours_mean": 9.0, "hours_floor": 7.0})
    warm = shore.fills.for_fish(species=(shore.species,), start_temperature_c=-3.0)
    way, _, found = offer(shore, kinds=[shore.fills, warm, shore.fills])
    assert found.allowed == (True, False, True)
    fits = capacity_kg(way.design)
    assert float(found.least_mass) in [round(share * fits, 3) for share in FILLINGS]
    assert shore.fills.is_safe(way.departure, way.design, float(found.least_mass))
    assert offer(shore, kinds=[warm])[2] is None


def test_what_was_shown_to_be_needed_is_asked_for_and_more_than_fits_is_no_offer():
    shore = scene()
    assert float(offer(shore, least_kg=80.0)[2].least_mass) == 80.0
    assert offer(shore, least_kg=200.0)[2] is None


def test_without_a_fare_or_a_price_there_is_no_offer():
    shore = scene()
    shore.design.materials.get(use="carton").material.prices.all().delete()
    assert offer(shore)[2] is None
    other = scene()
    other.tariff.rules.update(kind="surcharge", amount_minor=0, surcharge_share=0.1)
    assert offer(other)[2] is None
    other.tariff.delete()
    assert offer(other)[2] is None


def test_the_hour_by_which_it_is_handed_over_is_a_cautious_one():
    shore = scene()
    _, _, found = offer(shore)
    slot = shore.departure.slot
    median = float(shore.departure.outing.travel[1])
    assert found.closes_at == slot.closes_at.timestamp()
    assert found.hands_over_by > (slot.departs_at + timedelta(seconds=median)).timestamp()
