"""Which cartons cost least, on the factories' round figures; sums by hand stand beside the value."""

from datetime import date

import pytest

from coop.models import CartonDesign
from coop.selectors.carton_choice import THICKNESSES, box_against_carton, cheapest_cartons, walls_to_choose
from coop.selectors.cartons import carton_designs_of
from coop.selectors.cost import bill_of, prices_for
from coop.selectors.cost_in_full import CostQuestion, cost_in_full, departures_question
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.scene import common_carton, returnable_box, trade
from tests.factories.tariffs import TariffRuleFactory

pytestmark = pytest.mark.django_db

MONDAY = date(2026, 3, 2)


@pytest.fixture
def shore():
    return trade(CooperativeFactory())


def prices(shore):
    return prices_for(shore.cooperative, shore.route, shore.buyer, shore.species)


def stored(row):
    """The design as the selectors read it, with what was changed."""
    return carton_designs_of(row.cooperative).get(pk=row.pk)


def cost_question(shore, **changes):
    asked = {
        "cooperative": shore.cooperative,
        "route": shore.route,
        "buyer": shore.buyer,
        "carrier": shore.carrier,
        "design": stored(shore.design),
        "species": shore.species,
        "mass_kg": 80.0,
        "cartons": 1,
        "day": MONDAY,
        "softened_share": 0.0,
        "with_fish": False,
        "start_temperature_c": -18.0,
    }
    return CostQuestion(**(asked | changes))


def walls(shore, **changes):
    question = departures_question(cost_question(shore, **changes))
    return walls_to_choose(question, prices(shore), shore.carrier)


def counted(shore, mass_kg):
    return cheapest_cartons(
        prices(shore), carrier=shore.carrier, design=shore.design, mass_kg=mass_kg, day=MONDAY
    )


def test_a_second_carton_is_not_taken_where_each_pays_its_fare(shore):
    assert counted(shore, 80.0).cartons == 1
    assert counted(shore, 150.0).cartons == 2


def test_no_other_count_is_cheaper(shore):
    found = counted(shore, 250.0)
    for cartons in range(3, 7):
        other = bill_of(
            prices(shore),
            carrier=shore.carrier,
            design=shore.design,
            mass_kg=250.0,
            cartons=cartons,
            day=MONDAY,
        )
        assert found.cost.per_kilogram <= other.cost.per_kilogram


def test_no_more_cartons_are_tried_than_there_are_places_or_fish(shore):
    shore.tariff.rules.all().delete()
    TariffRuleFactory(tariff=shore.tariff, position=1, kind="per_kilogram", amount_minor=0)
    for mass_kg in (6.0, 80.0, 600.0):
        found = counted(shore, mass_kg)
        assert found.cartons <= shore.carrier.carton_places
        assert mass_kg / found.cartons > 5


def test_without_a_price_no_count_is_the_cheapest(shore):
    shore.tariff.delete()
    assert counted(shore, 80.0) is None


def compared(shore, box, mass_kg=80.0):
    return box_against_carton(
        prices(shore),
        carton_designs_of(shore.cooperative),
        carrier=shore.carrier,
        box=stored(box),
        mass_kg=mass_kg,
        day=MONDAY,
    )


def test_a_box_is_compared_by_materials_and_return_alone(shore):
    TariffRuleFactory(tariff=shore.tariff, position=2, kind="return_of_empty", amount_minor=5000)
    box = returnable_box(shore.cooperative, expected_trips=50, loss_chance=0.0)
    found = compared(shore, box)
    assert found.against == shore.design
    # 6500.00 over 50 trips and 50.00 for bringing it back
    assert found.box_minor == 650_000 // 50 + 5000
    # used carton and 7 sacks of shavings; both need the same bags
    assert found.one_way_minor == 2500 + 7 * 800
    assert found.saving_minor == found.one_way_minor - found.box_minor
    # 8100 − 5000 a trip pays for it after 650 000 / 3100 trips
    assert found.least_trips == 210


def test_a_box_that_gets_lost_costs_more_and_is_brought_back_less_often(shore):
    TariffRuleFactory(tariff=shore.tariff, position=2, kind="return_of_empty", amount_minor=5000)
    box = returnable_box(shore.cooperative, expected_trips=50, loss_chance=0.5)
    assert compared(shore, box).box_minor == 650_000 // 2 + 5000 // 2


def test_a_box_is_compared_with_the_carton_that_costs_least_for_this_fish(shore):
    cheap = common_carton(shore.cooperative, slug="bare", insulation_top_m=0.05)
    cheap.materials.exclude(use="carton").delete()
    too_small = {f"outer_{side}_m": 0.3 for side in ("length", "width", "height")}
    common_carton(shore.cooperative, slug="tiny", **too_small).materials.all().delete()
    box = returnable_box(shore.cooperative)
    assert compared(shore, box).against == cheap


def test_without_a_price_or_another_carton_nothing_is_compared(shore):
    box = returnable_box(shore.cooperative)
    box.materials.get(use="box").material.prices.all().delete()
    assert compared(shore, box) is None
    other = returnable_box(shore.cooperative, slug="other")
    shore.tariff.delete()
    assert compared(shore, other) is None


def test_a_box_without_cartons_to_compare_it_with_stands_alone(shore):
    box = returnable_box(shore.cooperative)
    CartonDesign.objects.filter(pk=shore.design.pk).delete()
    assert compared(shore, box) is None


def test_thicker_walls_leave_room_for_less_and_soften_less_of_it(shore):
    found, _ = walls(shore, start_temperature_c=-5.0)
    assert tuple(wall.thickness for wall in found) == THICKNESSES
    masses = [wall.mass_kg for wall in found]
    assert masses == sorted(masses, reverse=True)
    # (1 − 2 × 0.04 − 0.01) × (0.7 − 0.09)² m³ of room with walls of 4 cm, × 530 kg/m³
    assert masses[0] == pytest.approx(0.91 * 0.61**2 * 530, abs=0.1)
    thin, thick = found[0], found[THICKNESSES.index(0.1)]
    assert thin.softened_share > thick.softened_share > 0


def test_the_wall_that_is_chosen_costs_least_for_a_sound_kilogram(shore):
    found, cheapest = walls(shore)
    costs = {wall.thickness: wall.cost.total / wall.cost.sound_mass for wall in found}
    assert cheapest.thickness == min(costs, key=costs.get)


def test_the_bill_of_a_wall_is_that_of_a_carton_so_built(shore):
    found, _ = walls(shore)
    wall = next(wall for wall in found if wall.thickness == 0.1)
    alone = bill_of(
        prices(shore),
        carrier=shore.carrier,
        design=shore.design,
        mass_kg=wall.mass_kg,
        cartons=1,
        day=MONDAY,
        softened_share=wall.softened_share,
    )
    assert wall.cost == alone.cost


def test_hard_fish_softens_in_no_wall_and_warm_fish_in_every_one(shore):
    cold, _ = walls(shore, start_temperature_c=-40.0)
    warm, _ = walls(shore, start_temperature_c=-3.0)
    assert all(one.softened_share <= other.softened_share for one, other in zip(cold, warm, strict=True))
    assert min(wall.softened_share for wall in warm) > 0


def test_dear_fish_asks_for_thicker_walls_than_cheap_fish(shore):
    price = shore.fish_price
    price.soft_minor_per_kg = price.sold_minor_per_kg
    price.save()
    _, careless = walls(shore, start_temperature_c=-5.0)
    price.sold_minor_per_kg, price.soft_minor_per_kg = 500_000, 0
    price.save()
    _, careful = walls(shore, start_temperature_c=-5.0)
    assert careful.thickness > careless.thickness


def test_walls_that_leave_no_room_are_left_out(shore):
    flat = common_carton(shore.cooperative, slug="flat", outer_height_m=0.25)
    found, _ = walls(shore, design=stored(flat))
    assert [wall.thickness for wall in found] == [0.04, 0.06, 0.08, 0.1]


def test_a_design_keeps_its_own_walls(shore):
    design = stored(shore.design)
    walls(shore, design=design)
    assert design.insulation_left_m == 0.1


def test_nothing_is_compared_without_a_departure_a_price_or_a_wall_of_ones_own(shore):
    box = stored(returnable_box(shore.cooperative))
    assert walls(shore, design=box) == ((), None)
    shore.tariff.delete()
    assert walls(shore) == ((), None)
    shore.timetable.delete()
    assert walls(shore) == ((), None)


def test_everything_about_a_cost_comes_together(shore):
    box = stored(returnable_box(shore.cooperative))
    one_way = cost_in_full(cost_question(shore))
    assert one_way.bill.cost.total == one_way.cheapest.cost.total
    assert one_way.box is None
    assert one_way.cheapest_wall
    assert one_way.ladder
    returned = cost_in_full(cost_question(shore, design=box, start_temperature_c=None))
    assert returned.box.against == shore.design
    assert (returned.walls, returned.cheapest_wall) == ((), None)
