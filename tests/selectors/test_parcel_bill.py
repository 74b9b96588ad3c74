"""The bill of a parcel. Sums by hand use the round figures of the factories, as test_cost does."""

import pytest

from coop.selectors.cost import bill_of
from coop.selectors.parcel_bill import bill_lines_of, bill_of_parcel, parcel_prices
from tests.factories.parcels import ParcelCartonFactory
from tests.factories.prices import FishPriceFactory
from tests.factories.tariffs import TariffRuleFactory
from tests.selectors.asking import MONDAY
from tests.selectors.queries import questions
from tests.selectors.shared_carton import shared_carton

pytestmark = pytest.mark.django_db


def billed(scene):
    parcel = scene.read()
    return bill_of_parcel(parcel, parcel_prices(parcel))


def amounts(cost):
    return {(line.code, line.name): line.amount_minor for line in cost.lines}


def test_cartons_that_hold_the_same_cost_what_one_consignment_of_them_costs():
    scene = shared_carton(40.0, 40.0, cartons=2)
    parcel = scene.read()
    even = bill_of(
        parcel_prices(parcel),
        carrier=parcel.timetable.carrier,
        design=parcel.design,
        mass_kg=80.0,
        cartons=2,
        day=MONDAY,
    )
    assert billed(scene).cost == even.cost


def test_unlike_cartons_are_packed_by_their_own_kilograms():
    scene = shared_carton(20.0, 75.5, cartons=2)
    found = amounts(billed(scene).cost)
    assert found["material", "Used carton"] == 2 * 2500
    # 10 bags of 2 kg, and 37.75: 38
    assert found["material", "Thin bag"] == 48 * 40
    # Shavings of 150 kg/m³ in what fish of 530 kg/m³ leaves of 0.471339 m³, in sacks of 8 kg:
    # 8.13 and 6.17, begun for each carton.
    assert found["material", "Shavings"] == (9 + 7) * 800
    assert found["labour", ""] == 2917  # 70 minutes at 2 500 an hour
    assert found["fare_per_carton", ""] == 60_000
    assert found["freezing_energy", ""] == round(95.5 * 0.38 * 260)


def test_a_fare_by_the_scale_weighs_each_carton_as_it_is_packed():
    scene = shared_carton(20.0, 75.5, cartons=2)
    scene.shore.tariff.rules.all().delete()
    TariffRuleFactory(tariff=scene.shore.tariff, position=1, kind="per_kilogram", amount_minor=100)
    inside, outside = 0.99 * 0.69 * 0.69, 0.49
    gross = sum(mass + 150 * (inside - mass / 530) + 150 * (outside - inside) for mass in (20.0, 75.5))
    assert amounts(billed(scene).cost)["fare_per_kilogram", ""] == pytest.approx(gross * 100, abs=1)


def test_nothing_expected_and_no_fish_is_billed():
    scene = shared_carton(20.0, 30.0)
    FishPriceFactory(cooperative=scene.shore.cooperative)
    assert not {"fish", "softening"} & {code for code, _ in amounts(billed(scene).cost)}


def test_an_empty_carton_costs_nothing_and_a_parcel_without_fish_has_no_bill():
    scene = shared_carton(20.0)
    before = billed(scene).cost.total
    ParcelCartonFactory(parcel=scene.parcel, position=2)
    assert billed(scene).cost.total == before
    assert billed(shared_carton()).missing == ("fish in any carton",)


def test_a_little_fish_in_an_open_carton_has_a_bill():
    assert billed(shared_carton(0.5)).cost.total > 0


def test_a_design_that_was_made_smaller_since_is_named_and_no_fault():
    parcel = shared_carton(90.0).read()
    # The database keeps a design that is in use: this one came by way of an archive, say.
    parcel.design.outer_height_m = 0.5
    [missing] = bill_of_parcel(parcel, parcel_prices(parcel)).missing
    assert "room for 90 kg in a carton of Common" in missing


def test_lines_become_rows_with_a_quantity_that_is_not_negative():
    scene = shared_carton(20.0)
    TariffRuleFactory(
        tariff=scene.shore.tariff, position=2, kind="surcharge", amount_minor=0, surcharge_share=-0.1
    )
    parcel = scene.read()
    cost = billed(scene).cost
    rows = bill_lines_of(parcel, cost)
    assert [row.position for row in rows] == list(range(1, len(rows) + 1))
    assert sum(row.amount_minor for row in rows) == cost.total
    [taken_off] = [row for row in rows if row.code == "fare_surcharge"]
    assert (taken_off.amount_minor, taken_off.quantity, taken_off.rate_minor) == (-3000, 0.1, -30_000)


def test_a_parcel_is_read_in_as_many_questions_however_many_share_it():
    def asked(*masses, cartons):
        scene = shared_carton(*masses, cartons=cartons)
        return questions(lambda: bill_of_parcel(scene.read(), parcel_prices(scene.parcel)))

    assert asked(20.0, cartons=1) == asked(*[5.0] * 12, cartons=3)
