from datetime import date

import pytest

from coop.errors import Invalid
from coop.models import CartonDesign
from coop.selectors.cost import bill_of, prices_for
from coop.selectors.packing import cartons_for, mass_fault, pack, packing_sheet
from tests.factories.cartons import CartonDesignFactory
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.materials import MaterialFactory
from tests.factories.scene import common_carton, priced, returnable_box, trade

pytestmark = pytest.mark.django_db

MONDAY = date(2026, 3, 2)
CAPACITY = 0.79 * 0.49 * 0.49 * 530
"""kg in the common carton: 1.0 × 0.7 × 0.7 m less 10 cm of shavings and 5 mm of board on every side."""


@pytest.fixture
def design():
    return common_carton(CooperativeFactory())


@pytest.mark.parametrize("mass_kg", [0.05 * CAPACITY + 1e-9, 50.0, CAPACITY - 1e-9])
def test_a_carton_takes_a_twentieth_of_itself_and_all_of_it(design, mass_kg):
    assert pack(design, mass_kg).mass == mass_kg


@pytest.mark.parametrize(
    ("mass_kg", "problem"), [(500.0, "more than fits in one carton"), (5.0, "too little for a carton")]
)
def test_another_mass_is_refused_with_what_would_be_right(design, mass_kg, problem):
    with pytest.raises(Invalid) as failure:
        pack(design, mass_kg)
    [one] = failure.value.problems
    assert (one.field, one.value, one.problem) == ("mass_kg", mass_kg, problem)
    assert one.right == f"5.1 to 100.5 kg in one carton of {design.name}"
    # Both ends of what is said to be right are right.
    for said in (5.1, 100.5):
        pack(design, said)


def test_more_places_hold_more(design):
    assert mass_fault(design, 300.0, places=3) is None
    assert mass_fault(design, 302.0, places=3).right.startswith("5.1 to 301.5 kg in 3 cartons")


def test_as_few_cartons_as_hold_the_fish(design):
    assert [cartons_for(design, kg) for kg in (1.0, 100.5, 101.0, 201.0, 302.0)] == [1, 1, 2, 2, 4]


def test_a_sheet_stands_up(design):
    sheet = packing_sheet(design, 60.0, MONDAY)
    load = sheet.load
    assert sheet.capacity_kg == pytest.approx(CAPACITY)
    assert load.fish_length * load.fish_width * load.fish_height * 530 == pytest.approx(60)
    assert load.fish_height + load.fill_above == pytest.approx(0.49)


def test_the_k_of_a_full_carton_is_its_heat_over_the_mean_of_its_surfaces(design):
    sheet = packing_sheet(design, CAPACITY - 1e-9, MONDAY)
    inside, outside = 2 * (2 * 0.79 * 0.49 + 0.49**2), 2 * (2 * 1.0 * 0.7 + 0.7**2)
    # ATP agreement, Annex 1, Appendix 2: K = UA / √(Si So).
    assert sheet.atp_k == pytest.approx(sheet.conductance / (inside * outside) ** 0.5)


def test_what_is_bought_is_what_the_bill_charges(design):
    shore = trade(CooperativeFactory())
    found = bill_of(
        prices_for(shore.cooperative, shore.route, shore.buyer, shore.species),
        carrier=shore.carrier,
        design=shore.design,
        mass_kg=80.0,
        cartons=1,
        day=MONDAY,
    )
    charged = {line.name: line.amount_minor for line in found.cost.lines if line.code == "material"}
    bought = packing_sheet(shore.design, 80.0, MONDAY).purchases
    assert {one.name: one.amount_minor for one in bought} == charged


def test_a_price_of_another_day_is_none(design):
    bought = packing_sheet(design, 80.0, date(2024, 1, 1)).purchases
    assert {(one.amount_minor, one.priced_on) for one in bought} == {(None, None)}


def test_a_quantity_that_was_entered_counts_before_geometry(design):
    row = design.materials.get(use="thin_bag")
    row.quantity = 7
    row.save()
    fresh = CartonDesign.objects.get(pk=design.pk)
    assert {one.name: one.quantity for one in packing_sheet(fresh, 80.0, MONDAY).purchases}["Thin bag"] == 7


def test_rope_thread_and_board_are_bought_by_their_measure():
    cooperative = CooperativeFactory()
    design = CartonDesignFactory(cooperative=cooperative, rope_wraps_length=2, rope_wraps_width=3)
    for use, unit in (("rope", "m"), ("thread", "m"), ("board", "m2")):
        priced(design, MaterialFactory(cooperative=cooperative, name=use, unit=unit), use, 100)
    found = {one.name: one.quantity for one in packing_sheet(design, 80.0, MONDAY).purchases}
    # Two turns of 3.4 m, three of 2.8 m, and 0.3 m for the knot of each.
    assert found["rope"] == pytest.approx(2 * 3.4 + 3 * 2.8 + 5 * 0.3)
    assert found["thread"] > 2 * (1.0 + 2 * 0.7)
    # A sheet on the fish, and a tenth of the outside.
    assert found["board"] == pytest.approx(0.79 * 0.49 + 0.1 * 2 * (0.7 + 0.7 + 0.49), abs=1e-3)


def test_a_packed_carton_weighs_its_fish_its_walls_and_its_board_or_what_was_entered(design):
    inside = 0.99 * 0.69 * 0.69
    walls = (inside - 80 / 530) * 150 + (0.49 - inside) * 150
    assert packing_sheet(design, 80.0, MONDAY).gross_kg == pytest.approx(80 + walls)
    box = returnable_box(CooperativeFactory(), empty_mass_kg=14.0)
    assert packing_sheet(box, 80.0, MONDAY).gross_kg == 94.0
