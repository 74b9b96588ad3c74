import pytest

from coop.engines.fish import Flesh
from coop.errors import Invalid
from coop.selectors.hold_carton import carton_of_sizes, followable_carton

COD = Flesh(0.803, 0.18, 0.006, 0.011)
SIZES = {
    "outer_length_m": 1.0,
    "outer_width_m": 0.7,
    "outer_height_m": 0.6,
    "insulation_m": 0.1,
    "board_thickness_m": 0.005,
    "board_conductivity_w_m_k": 0.08,
    "insulation_density_kg_m3": 150.0,
    "insulation_specific_heat_j_kg_k": 1600.0,
    "stowage_density_kg_m3": 500.0,
}


def refused(sizes, **asked):
    with pytest.raises(Invalid) as failure:
        followable_carton(
            SIZES | sizes, COD, **({"mass_kg": 50.0, "conductivity_cv": 0.25, "confidence": 0.95} | asked)
        )
    [problem] = failure.value.problems
    return problem


def test_one_thickness_stands_for_every_face_that_has_none_of_its_own():
    carton = carton_of_sizes(SIZES | {"insulation_top_m": 0.15})
    assert carton.insulation == (0.1, 0.1, 0.1, 0.1, 0.1, 0.15)


@pytest.mark.parametrize(
    ("density", "conductivity"), [(80.0, 0.12), (130.0, 0.08), (150.0, 0.07), (180.0, 0.06)]
)
def test_shavings_conduct_as_their_density_says(density, conductivity):
    # Granum 1951, in Berge, The Ecology of Building Materials, Table 14.6.
    built = carton_of_sizes(SIZES | {"insulation_density_kg_m3": density})
    assert built.insulation_conductivity == pytest.approx(conductivity)


def test_a_conductivity_that_is_given_counts_for_any_density():
    sizes = SIZES | {"insulation_density_kg_m3": 30.0, "insulation_conductivity_w_m_k": 0.024}
    assert carton_of_sizes(sizes).insulation_conductivity == 0.024


@pytest.mark.parametrize(
    ("sizes", "field"),
    [
        ({"outer_height_m": 0.21}, "outer_height_m"),
        ({"insulation_m": 0.35}, "outer_width_m"),
        ({"board_thickness_m": 0.4}, "outer_length_m"),
        ({"insulation_density_kg_m3": 79.0}, "insulation_density_kg_m3"),
        ({"insulation_m": 0.004}, "insulation_m"),
        ({"insulation_left_m": 0.004}, "insulation_left_m"),
        ({"stowage_density_kg_m3": 1000.0}, "stowage_density_kg_m3"),
        ({"insulation_conductivity_w_m_k": 2.0, "insulation_m": 0.005}, "insulation_conductivity_w_m_k"),
    ],
)
def test_a_fault_is_named_as_it_was_given(sizes, field):
    problem = refused(sizes)
    assert problem.field == field
    assert problem.value == (SIZES | sizes)[field]
    assert problem.right


@pytest.mark.parametrize("mass_kg", [1.0, 500.0])
def test_a_mass_that_is_none_for_it_is_refused(mass_kg):
    problem = refused({}, mass_kg=mass_kg)
    assert (problem.field, problem.value) == ("mass_kg", mass_kg)
    # 0.79 × 0.49 × 0.39 m³ × 500 kg/m³ = 75.48 kg, and a twentieth of it.
    assert problem.right.startswith("3.8 to 75.4 kg in one carton")


def test_a_good_carton_comes_back():
    carton = followable_carton(SIZES, COD, mass_kg=75.4, conductivity_cv=0.25, confidence=0.999)
    assert carton.outer_length == 1.0
