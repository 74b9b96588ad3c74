from datetime import date

import pytest
from django.core.exceptions import ValidationError

from tests.factories.cartons import CartonDesignFactory, DesignMaterialFactory, ReturnableBoxFactory
from tests.factories.parcels import ParcelFactory
from tests.models.refusals import change, refused, twin

pytestmark = pytest.mark.django_db

# The common carton of the factory has 5 mm of board: 0.49 m each side of its length leaves nothing of 1.0 m.
NO_ROOM = [
    ("carton_design_room_along_the_length", {"insulation_left_m": 0.495, "insulation_right_m": 0.495}),
    ("carton_design_room_along_the_width", {"insulation_front_m": 0.345, "insulation_back_m": 0.345}),
    ("carton_design_room_along_the_height", {"insulation_bottom_m": 0.345, "insulation_top_m": 0.345}),
    ("carton_design_room_along_the_height", {"outer_height_m": 0.21}),
    ("carton_design_room_along_the_width", {"board_thickness_m": 0.25, "outer_height_m": 0.9}),
]


@pytest.mark.parametrize(("name", "columns"), NO_ROOM)
def test_a_carton_whose_walls_leave_no_room_is_refused(name, columns):
    design = CartonDesignFactory()
    with refused(name):
        change(design, **columns)
    for column, value in columns.items():
        setattr(design, column, value)
    with pytest.raises(ValidationError, match="leave no room inside"):
        design.full_clean()


def test_a_centimetre_of_room_is_room():
    design = CartonDesignFactory()
    change(design, insulation_left_m=0.49, insulation_right_m=0.49)
    design.refresh_from_db()
    design.full_clean()


@pytest.mark.parametrize(
    "columns",
    [
        {"insulation_material": "eps"},
        {"insulation_density_kg_m3": 79},
        {"insulation_density_kg_m3": 181},
    ],
)
def test_only_shavings_of_the_table_have_a_conductivity_by_their_density(columns):
    design = CartonDesignFactory()
    with refused("carton_design_has_a_conductivity"):
        change(design, **columns)
    change(design, insulation_conductivity_w_m_k=0.05, **columns)


@pytest.mark.parametrize("density", [80, 180])
def test_the_table_holds_at_both_of_its_ends(density):
    change(CartonDesignFactory(), insulation_density_kg_m3=density)


def test_a_carton_that_does_not_come_back_lasts_one_trip():
    box = ReturnableBoxFactory()
    with refused("carton_design_one_way_lasts_one_trip"):
        change(box, returnable=False)
    change(box, returnable=False, expected_trips=1)


def test_a_short_name_names_one_version_on_any_day():
    design = CartonDesignFactory()
    with refused("carton_design_overlap|carton_design_version_once_in_a_cooperative"):
        twin(design)
    change(design, valid_until=date(2026, 3, 1))
    with refused("carton_design_overlap"):
        twin(design, valid_from=date(2026, 2, 28), valid_until=None)
    twin(design, valid_from=date(2026, 3, 1), valid_until=None)


def test_a_material_is_named_once_for_a_use():
    row = DesignMaterialFactory(use="liner_bag", quantity=None)
    twin(row, use="thin_bag")
    with refused("coop_designmaterial.use|design_material_once_for_a_use"):
        twin(row, quantity=2)


def test_what_nothing_tells_the_quantity_of_has_one():
    row = DesignMaterialFactory(use="rope", quantity=None)
    with refused("design_material_other_has_a_quantity"):
        change(row, use="other")
    change(row, use="other", quantity=1)


def test_nothing_comes_back_with_a_carton_that_stays():
    DesignMaterialFactory.build(
        design=(box := ReturnableBoxFactory()),
        material=DesignMaterialFactory(design=box, use="box").material,
        use="rope",
        returns_with_box=True,
    ).full_clean()
    row = DesignMaterialFactory()
    row.returns_with_box = True
    with pytest.raises(ValidationError, match="does not come back"):
        row.full_clean()


def test_a_version_in_which_fish_travels_never_changes():
    use = DesignMaterialFactory()
    design = use.design
    change(design, insulation_top_m=0.11, empty_mass_kg=3.0)
    ParcelFactory(cooperative=design.cooperative, design=design)
    for columns in ({"insulation_top_m": 0.12}, {"empty_mass_kg": None}, {"valid_from": date(2025, 2, 1)}):
        with refused("carton_design_in_use_stays_as_it_is"):
            change(design, **columns)
    with refused("design_material_in_use_stays_as_it_is"):
        change(use, quantity=2.0)
    with refused("design_material_in_use_stays_as_it_is"):
        twin(use, use="rope")
    with refused("design_material_in_use_stays_as_it_is"):
        use.delete()
    change(design, valid_until=date(2027, 1, 1), name="Common carton")
