"""What to buy and cut for one carton."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coop.engines import packing
from coop.engines.carton import capacity, load
from coop.engines.packing import board_area, packing_materials, rope_length, thread_length
from tests.engines.conduction_cases import common_carton


def bought(mass=100.0, design=None, **changes):
    design = design or common_carton()
    asked = {"thin_bag_mass": 2.0, "sack_volume": 0.1, "rope_wraps_length": 2, "rope_wraps_width": 3}
    return packing_materials(design, load(design, mass), **(asked | changes))


def test_insulation_is_that_of_the_load_fill_and_all():
    packed = load(common_carton(), 40)
    materials = bought(40)
    assert materials.insulation_volume == packed.insulation_volume
    assert materials.insulation_mass == packed.insulation_mass
    assert materials.insulation_mass > bought(100).insulation_mass


def test_sacks_hold_loose_shavings_and_are_bought_whole():
    """0.1 m³ of loose shavings, 80 kg/m³ (Granum), are 8 kg; the carton takes 42.4 kg, so six."""
    assert bought().insulation_mass == pytest.approx(42.4, abs=0.05)
    assert bought().insulation_sacks == 6


def test_a_sack_as_tight_as_the_carton_is_counted_by_volume():
    """0.2827 m³ in sacks of 0.1 m³."""
    assert bought(sack_density=150.0).insulation_sacks == 3


@given(st.floats(0.01, 1.0), st.floats(0.001, 2.0), st.floats(0.1, 50))
def test_what_is_bought_is_enough_and_one_less_is_not(share, volume, bag):
    mass = share * capacity(common_carton())
    materials = bought(mass, sack_volume=volume, thin_bag_mass=bag)
    held = volume * packing.LOOSE_SHAVINGS_DENSITY
    assert (materials.insulation_sacks - 1) * held < materials.insulation_mass
    assert materials.insulation_mass <= materials.insulation_sacks * held * (1 + 1e-8)
    assert (materials.thin_bags - 1) * bag < mass <= materials.thin_bags * bag * (1 + 1e-8)


@pytest.mark.parametrize(
    ("mass", "bag", "bags"), [(80, 2, 40), (81, 2, 41), (0.5, 2, 1), (99.9, 0.1, 999), (0.3, 0.1, 3)]
)
def test_thin_bags_are_whole_and_round_off_buys_none(mass, bag, bags):
    assert bought(mass, thin_bag_mass=bag).thin_bags == bags


def test_where_no_sack_is_named_none_is_counted():
    assert bought(sack_volume=None).insulation_sacks is None


def test_rope_goes_round_as_often_as_asked():
    """Round 1.0 × 0.7 m twice is 6.8 m, round 0.7 × 0.7 m thrice 8.4 m, and 0.3 m for each of five knots."""
    assert bought().rope_length == pytest.approx(6.8 + 8.4 + 1.5)
    assert rope_length(common_carton(), rope_wraps_length=0, rope_wraps_width=0) == 0


def test_thread_sews_lid_and_floor():
    """Seams of 1.0 + 2 × 0.7 m on lid and floor, three times as much thread."""
    assert bought().thread_length == thread_length(common_carton()) == pytest.approx(3 * 2 * 2.4)


def test_board_covers_the_fish_and_patches_a_tenth():
    """0.79 × 0.49 m on the fish, and a tenth of 2 (0.7 + 0.7 + 0.49) m²."""
    design = common_carton()
    area = board_area(design, load(design, 50))
    assert bought(50).board_area == area == pytest.approx(0.79 * 0.49 + 0.1 * 3.78)


def test_one_liner_bag_goes_round_the_fish():
    assert bought().liner_bags == 1


def test_pieces_are_whole_numbers():
    materials = bought()
    assert {type(n) for n in (materials.insulation_sacks, materials.thin_bags, materials.liner_bags)} == {int}


@pytest.mark.parametrize("name", ["thin_bag_mass", "sack_volume", "sack_density"])
@pytest.mark.parametrize("value", [0, -1, float("nan"), float("inf")])
def test_a_measure_that_cannot_be_is_refused(name, value):
    with pytest.raises(ValueError, match=rf"^{name} must be above 0, not {value}$"):
        bought(**{name: value})


@pytest.mark.parametrize("name", ["wraps_length", "wraps_width"])
@pytest.mark.parametrize("turns", [-1, 21, 1.5, float("nan"), float("inf")])
def test_turns_that_cannot_be_are_refused(name, turns):
    with pytest.raises(ValueError, match=rf"^rope_{name} must be a whole number from 0 to 20, not {turns}$"):
        bought(**{f"rope_{name}": turns})


def test_more_turns_take_more_rope():
    lengths = [rope_length(common_carton(), rope_wraps_length=n, rope_wraps_width=1) for n in range(5)]
    assert np.all(np.diff(lengths) > 0)
