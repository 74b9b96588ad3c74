from datetime import UTC, date, datetime

import pytest

from coop.errors import Conflict, Invalid, NotFound
from coop.models import CartonDesign, DesignMaterial
from coop.services.carton_designs import add_carton_design, change_carton_design
from coop.services.changes import end, withdraw
from coop.services.parcels import open_parcel
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.materials import MaterialFactory
from tests.factories.members import MemberFactory
from tests.factories.parcels import parcel_of
from tests.factories.scene import trade

pytestmark = pytest.mark.django_db
NOW, TODAY, TOMORROW = datetime(2026, 3, 1, 8, tzinfo=UTC), date(2026, 3, 1), date(2026, 3, 2)
WEEK = date(2026, 3, 8)


@pytest.fixture
def shore():
    found = trade(CooperativeFactory())
    found.manager = MemberFactory(cooperative=found.cooperative, role="manager")
    return found


@pytest.fixture
def change(shore):
    return lambda valid_from=TOMORROW, **more: change_carton_design(
        **{"by": shore.manager, "design": shore.design, "now": NOW, "valid_from": valid_from, **more}
    )


def uses(design):
    return {(row.material.name, row.use, row.quantity) for row in design.materials.all()}


def test_a_change_makes_a_version_with_everything_that_was_not_named(change, shore):
    new = change(insulation_top_m=0.12)
    shore.design.refresh_from_db()
    assert (new.slug, new.valid_from, shore.design.valid_until) == (shore.design.slug, TOMORROW, TOMORROW)
    assert (new.insulation_top_m, new.insulation_left_m) == (0.12, shore.design.insulation_left_m)
    assert shore.design.insulation_top_m == 0.1
    assert uses(new) == uses(shore.design)
    assert DesignMaterial.objects.count() == 6


def test_materials_are_changed_as_a_whole(change, shore):
    rope = MaterialFactory(cooperative=shore.cooperative, unit="m", name="Rope")
    new = change(materials=[{"material": rope, "use": "rope"}])
    assert uses(new) == {("Rope", "rope", None)}
    assert len(uses(shore.design)) == 3
    assert change(WEEK, materials=[{"material": rope, "use": "rope", "returns_with_box": False}]) == new


def test_the_same_again_is_nothing_new(change, shore):
    assert change(insulation_top_m=0.1) == shore.design
    assert CartonDesign.objects.count() == 1


def test_a_version_that_nobody_uses_yet_is_replaced_on_its_day(change):
    first = change(insulation_top_m=0.12)
    assert change(insulation_top_m=0.14) == first
    assert CartonDesign.objects.count() == 2


def test_a_version_in_which_fish_travels_never_changes(change, shore):
    version = change(insulation_top_m=0.12)
    parcel_of(shore, design=version)
    assert change(insulation_top_m=0.12) == version
    with pytest.raises(Conflict, match="never changes"):
        change(insulation_top_m=0.14)
    with pytest.raises(Conflict, match="rests on this"):
        withdraw(version, shore.manager, now=NOW)
    end(version, WEEK, shore.manager, now=NOW)
    version.refresh_from_db()
    assert version.insulation_top_m == 0.12


def test_a_parcel_is_opened_with_the_version_of_its_day(change, shore):
    new = change(insulation_top_m=0.12)
    packer = MemberFactory(cooperative=shore.cooperative, role="packer")
    on_monday = {
        "by": packer,
        "timetable": shore.timetable,
        "date": TOMORROW,
        "buyer": shore.buyer,
        "now": NOW,
    }
    shore.design.refresh_from_db()
    with pytest.raises(Invalid) as refusal:
        open_parcel(design=shore.design, **on_monday)
    assert refusal.value.problems[0].field == "design"
    assert open_parcel(design=new, **on_monday).design == new


def test_a_design_that_there_was_not_is_added_once(shore):
    bag = MaterialFactory(cooperative=shore.cooperative, name="Bag")
    kept = ("outer_length_m", "outer_width_m", "outer_height_m", "board_thickness_m")
    figures = {name: getattr(shore.design, name) for name in kept}
    figures |= {"name": "Small", "insulation_density_kg_m3": 150.0, "stowage_density_kg_m3": 500.0}
    new = {"by": shore.manager, "slug": "small", "valid_from": TOMORROW, "now": NOW, **figures}
    row = add_carton_design(materials=[{"material": bag, "use": "liner_bag"}], **new)
    assert uses(row) == {("Bag", "liner_bag", None)}
    with pytest.raises(Conflict, match="a design of this name"):
        add_carton_design(materials=[], **new)


def test_a_carton_without_room_or_with_a_material_of_strangers_is_refused(change):
    with pytest.raises(Invalid, match="no room"):
        change(insulation_top_m=0.5, insulation_bottom_m=0.5)
    with pytest.raises(NotFound):
        change(materials=[{"material": MaterialFactory(), "use": "rope"}])
    twice = {"material": MaterialFactory(), "use": "rope"}
    with pytest.raises(Invalid, match="name one twice"):
        change(materials=[twice, twice])
    assert CartonDesign.objects.count() == 1


def test_what_is_no_figure_of_a_design_is_a_slip_of_the_programmer(change):
    with pytest.raises(TypeError, match="has no colour"):
        change(colour="red")
