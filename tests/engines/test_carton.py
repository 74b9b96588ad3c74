"""Room, load and shavings of a carton, and what the engine refuses."""

import math

import ht
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coop.engines import carton
from coop.engines.carton import FACES, capacity, load, room, shavings_conductivity
from tests.engines.conduction_cases import common_carton

NOT_NUMBERS = [float("nan"), float("inf"), float("-inf")]


@pytest.mark.parametrize(("density", "expected"), [(80, 0.120), (130, 0.080), (150, 0.070), (180, 0.060)])
def test_shavings_conduct_as_granum_measured(density, expected):
    """Granum 1951, in Berge, The Ecology of Building Materials, Table 14.6: printed figures, so exact."""
    assert shavings_conductivity(density) == pytest.approx(expected, rel=1e-12)


def test_between_measured_densities_conductivity_falls_on_a_straight_line():
    assert shavings_conductivity([105, 140, 165]) == pytest.approx([0.100, 0.075, 0.065])
    assert np.all(np.diff(shavings_conductivity(np.linspace(80, 180, 101))) < 0)


def test_shavings_conduct_more_than_the_air_in_them_and_less_than_wood():
    """Loose cellulose of ASHRAE's table in PyPI `ht` is the best that such a fill gets, wood the worst."""
    cellulose = ht.insulation.ASHRAE["Loose fill, Cellulosic"][2]
    wood = ht.insulation.ASHRAE["West coast woods, cedars"][2]
    # The table of `ht` gives W/(m K) in its third column.
    density = np.linspace(80, 180, 11)
    assert np.all(shavings_conductivity(density) > cellulose)
    assert shavings_conductivity(130) < wood


def test_an_array_of_densities_equals_its_scalars():
    densities = np.array([80.0, 99.9, 130.0, 151.0, 180.0])
    np.testing.assert_array_equal(
        shavings_conductivity(densities), [shavings_conductivity(density) for density in densities]
    )


@pytest.mark.parametrize("density", [0, -150, 79.9, 180.1, 1500, *NOT_NUMBERS])
def test_a_density_at_which_nothing_was_measured_is_refused(density):
    with pytest.raises(ValueError, match=r"^packing_density must be between 80\.0 and 180\.0 kg/m³, not"):
        shavings_conductivity([130, density])


def test_still_air_resists_as_iso_6946_has_it():
    """ISO 6946, Table of surface resistances: sideways 0.13, up 0.10, down 0.17 m² K/W."""
    resistance = dict(zip(FACES, carton.STILL_AIR_RESISTANCE, strict=True))
    assert {resistance[face] for face in ("left", "right", "front", "back")} == {0.13}
    # Heat flows up into the floor of a cold carton and down into its lid.
    assert (resistance["bottom"], resistance["top"]) == (0.10, 0.17)


def test_the_room_is_what_the_walls_leave():
    inside = room(common_carton(insulation=(0.1, 0.05, 0.08, 0.02, 0.03, 0.2)))
    assert inside == pytest.approx((1 - 0.15 - 0.01, 0.7 - 0.1 - 0.01, 0.7 - 0.23 - 0.01))
    assert inside.volume == pytest.approx(0.84 * 0.59 * 0.46)


def test_100_kg_fit_the_common_carton():
    """Common practice, no source: 100 kg in about 0.2 m³ (to a tenth)."""
    assert room(common_carton()).volume == pytest.approx(0.2, rel=0.1)
    assert 100 <= capacity(common_carton()) < 102


def test_the_fish_covers_the_floor_and_its_volume_is_that_of_its_stowage():
    design = common_carton()
    half = load(design, 50)
    assert (half.fish_length, half.fish_width) == room(design)[:2]
    volume = half.fish_length * half.fish_width * half.fish_height
    assert volume * design.stowage_density == pytest.approx(50, rel=1e-12)


def test_a_full_carton_needs_no_fill_above():
    design = common_carton()
    full = load(design, capacity(design))
    assert full.fill_above == 0
    assert full.fish_height == room(design).height


@given(
    st.floats(0.3, 2.5),
    st.floats(0.3, 2.5),
    st.floats(0.3, 2.5),
    st.tuples(*[st.floats(0, 0.13)] * 6),
    st.floats(100, 1000),
    st.floats(1e-6, 1),
)
def test_every_load_fills_its_carton_to_the_brim(length, width, height, insulation, stowage, share):
    """Fish, insulation and board take up the outer volume, to round-off."""
    design = common_carton(
        outer_length=length,
        outer_width=width,
        outer_height=height,
        insulation=insulation,
        stowage_density=stowage,
    )
    packed = load(design, capacity(design) * share)
    inside, board = room(design), 2 * design.board_thickness
    assert packed.fish_height + packed.fill_above == pytest.approx(inside.height, rel=1e-15)
    assert packed.fill_above >= 0
    fish = packed.fish_length * packed.fish_width * packed.fish_height
    brim = (length - board) * (width - board) * (height - board)
    assert fish + packed.insulation_volume == pytest.approx(brim, rel=1e-14)
    walls = brim - inside.volume + inside.length * inside.width * packed.fill_above
    assert packed.insulation_volume == pytest.approx(walls, rel=1e-9, abs=1e-14)
    board_volume = length * width * height - brim
    masses = packed.mass + packed.insulation_volume * 150 + board_volume * carton.BOARD_DENSITY
    assert packed.gross_mass == pytest.approx(masses, rel=1e-12)


def test_less_fish_asks_for_more_insulation():
    design = common_carton()
    packed = [load(design, mass) for mass in (20, 50, 80, 100)]
    assert np.all(np.diff([one.insulation_volume for one in packed]) < 0)
    assert np.all(np.diff([one.fill_above for one in packed]) < 0)


def test_more_fish_than_fits_is_refused_with_the_kilograms_that_fit():
    with pytest.raises(
        ValueError, match=r"^mass must be at most 100\.529 kg, which is what fits, not 500$"
    ) as refusal:
        load(common_carton(), 500)
    named = float(str(refusal.value).split(" kg")[0].split()[-1])
    assert load(common_carton(), named).mass == named


def test_the_kilograms_named_fit_whatever_the_carton():
    for side in np.linspace(0.2201, 2.4, 40):
        design = common_carton(outer_length=side, outer_width=side, outer_height=side)
        with pytest.raises(ValueError, match="which is what fits") as refusal:
            load(design, capacity(design) * 1.01)
        named = float(str(refusal.value).split(" kg")[0].split()[-1])
        assert capacity(design) - 0.002 <= named <= capacity(design)


@pytest.mark.parametrize("mass", [0, -80, *NOT_NUMBERS])
def test_a_mass_that_cannot_be_is_refused(mass):
    with pytest.raises(ValueError, match=rf"^mass must be above 0 kg, not {mass}$"):
        load(common_carton(), mass)


@pytest.mark.parametrize("name", ["outer_length", "outer_width", "outer_height"])
@pytest.mark.parametrize("value", [0, -1, 0.099, 2.51, 10, *NOT_NUMBERS])
def test_an_outer_side_that_no_carton_has_is_refused(name, value):
    with pytest.raises(ValueError, match=rf"^{name} must be between 0\.1 and 2\.5, not {value}$"):
        common_carton(**{name: value})


@pytest.mark.parametrize(
    "name",
    [
        "board_thickness",
        "board_conductivity",
        "insulation_conductivity",
        "insulation_density",
        "insulation_specific_heat",
        "stowage_density",
    ],
)
@pytest.mark.parametrize("value", [-1, 1e5, *NOT_NUMBERS])
def test_a_property_that_no_carton_has_is_refused(name, value):
    with pytest.raises(ValueError, match=rf"^{name} must be between .* not {value}$"):
        common_carton(**{name: value})


@pytest.mark.parametrize(
    "name", ["board_conductivity", "insulation_conductivity", "insulation_density", "stowage_density"]
)
def test_a_property_of_nothing_is_refused(name):
    with pytest.raises(ValueError, match=rf"^{name} must be between .* not 0$"):
        common_carton(**{name: 0})


@pytest.mark.parametrize(("place", "face"), list(enumerate(FACES)))
@pytest.mark.parametrize("value", [-0.01, 0.51, *NOT_NUMBERS])
def test_an_insulation_that_cannot_be_is_refused_with_its_face(place, face, value):
    insulation = [0.1] * 6
    insulation[place] = value
    with pytest.raises(
        ValueError, match=rf"^insulation on the {face} must be between 0\.0 and 0\.5, not {value}$"
    ):
        common_carton(insulation=tuple(insulation))


@pytest.mark.parametrize("insulation", [(), (0.1,) * 5, (0.1,) * 7])
def test_insulation_of_other_than_six_faces_is_refused(insulation):
    with pytest.raises(ValueError, match=r"^insulation must have six thicknesses, left, right"):
        common_carton(insulation=insulation)


@pytest.mark.parametrize(
    ("side", "insulation"),
    [
        ("length", (0.5, 0.49, 0.1, 0.1, 0.1, 0.1)),
        ("width", (0.1, 0.1, 0.35, 0.34, 0.1, 0.1)),
        ("height", (0.1, 0.1, 0.1, 0.1, 0.4, 0.4)),
    ],
)
def test_walls_that_leave_no_room_are_refused_with_their_side(side, insulation):
    with pytest.raises(
        ValueError, match=rf"^outer_{side} is .* m, but the walls take .* m: no room is left$"
    ):
        common_carton(insulation=insulation)


def test_board_counts_as_wall():
    with pytest.raises(ValueError, match=r"^outer_height is 0\.7 m, but the walls take 0\.7 m"):
        common_carton(insulation=(0.1, 0.1, 0.1, 0.1, 0.34, 0.34), board_thickness=0.01)


def test_a_carton_never_changes():
    design = common_carton()
    with pytest.raises(AttributeError):
        design.outer_length = 2.0
    assert math.isclose(design.outer_length, 1.0)
