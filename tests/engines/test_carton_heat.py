"""Heat through the walls of a carton: UA and K."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coop.engines.carton import (
    STILL_AIR_RESISTANCE,
    atp_k,
    capacity,
    conductance,
    load,
    room,
    shape_factor,
)
from tests.engines.conduction_cases import common_carton

STILL = 1 / np.array(STILL_AIR_RESISTANCE)
TOUCHING = 1e12
"""W/(m² K): no film to speak of."""


def bare(**changes):
    """A carton without board: inner 0.60 × 0.45 × 0.45 m, 10 cm of 0.07 W/(m K)."""
    sides = {"outer_length": 0.80, "outer_width": 0.65, "outer_height": 0.65, "board_thickness": 0.0}
    return common_carton(**(sides | changes))


def full(design):
    return load(design, capacity(design))


def test_the_steady_box_has_the_shape_factor_of_langmuir():
    """Incropera & DeWitt, Table 4.1 (edge 0.54, corner 0.15): 18.21 m."""
    assert shape_factor(bare(), full(bare())) == pytest.approx(18.21, abs=0.005)


def test_without_board_and_film_heat_comes_in_by_conductivity_times_shape_factor():
    assert conductance(bare(), full(bare()), film=TOUCHING) == pytest.approx(0.07 * 18.21, rel=1e-4)


def test_heat_of_the_steady_box_by_the_published_lumped_estimate():
    """Worked out by others: 100 kg of cod here, film 8, in 25 °C air, warm from −18 to −5 °C in 39 h (10 %:
    two figures, one mean temperature for all the hours, and an enthalpy table that is 5 % sure)."""
    heat = 100 * (105.0 - 47.6) * 1e3
    # FAO FTP 340, Table 31, read between −20 and −16 °C and between −6 and −4 °C.
    mean_difference = 25 - (-10.0)
    hours = heat / (conductance(bare(), full(bare()), film=8.0) * mean_difference) / 3600
    assert hours == pytest.approx(39, rel=0.10)


def test_a_wall_alone_is_that_of_any_text():
    """Area over the sum of resistances for the one face with air at it; its edges add below a twentieth."""
    plate = common_carton(
        outer_length=2.5, outer_width=2.5, outer_height=0.6, insulation=(0.0, 0.0, 0.0, 0.0, 0.5, 0.05)
    )
    wall = 2.5**2 / (0.05 / 0.07 + 0.005 / 0.08 + 1 / 8)
    leaked = conductance(plate, full(plate), film=[1e-12] * 5 + [8.0])
    assert wall < leaked < 1.05 * wall


def test_without_insulation_board_and_film_are_all_there_is():
    thin = common_carton(insulation=(0.0,) * 6)
    outside = 2 * (1.0 * 0.7 + 1.0 * 0.7 + 0.7 * 0.7)
    expected = outside / (0.005 / 0.08 + 1 / 8)
    assert conductance(thin, full(thin), film=8.0) == pytest.approx(expected, rel=1e-12)


def test_one_film_equals_six_of_its_kind():
    design = common_carton()
    packed = load(design, 60)
    assert conductance(design, packed, film=8.0) == conductance(design, packed, film=[8.0] * 6)


def test_films_belong_to_their_faces():
    """Wind on a face that insulates badly brings in more heat than wind on one that insulates well."""
    design = common_carton(insulation=(0.02, 0.2, 0.1, 0.1, 0.1, 0.1))
    left, right = np.full(6, 5.0), np.full(6, 5.0)
    left[0] = right[1] = 25.0
    packed = full(design)
    still = conductance(design, packed, film=5.0)
    assert conductance(design, packed, film=left) - still > 5 * (
        conductance(design, packed, film=right) - still
    )


@given(
    st.tuples(*[st.floats(0.0, 0.3)] * 6), st.integers(0, 5), st.floats(0.001, 0.05), st.floats(2.0, 1000.0)
)
def test_a_thicker_wall_never_lets_more_heat_in(insulation, face, extra, film):
    """The carton stays as large outside and is full. (The same fish in less room would lie higher, and so
    lose some of the fill above it.)"""
    thicker = tuple(t + extra * (k == face) for k, t in enumerate(insulation))
    one, other = (bigger_carton(walls) for walls in (insulation, thicker))
    assert ua(other, capacity(other), film) <= ua(one, capacity(one), film) * (1 + 1e-12)


def bigger_carton(insulation):
    return common_carton(outer_length=1.2, outer_width=0.9, outer_height=0.9, insulation=insulation)


def ua(design, mass, film):
    return conductance(design, load(design, mass), film=film)


def test_an_under_filled_carton_leaks_like_a_full_one_with_a_thicker_lid():
    design = common_carton()
    half = load(design, 50)
    lid = common_carton(insulation=(0.1, 0.1, 0.1, 0.1, 0.1, 0.1 + half.fill_above))
    assert capacity(lid) == pytest.approx(50)
    assert conductance(design, half, film=8.0) == pytest.approx(ua(lid, capacity(lid), 8.0), rel=1e-12)
    assert shape_factor(design, half) == pytest.approx(shape_factor(lid, full(lid)), rel=1e-12)


def test_less_fish_lies_deeper_and_less_heat_comes_in():
    design = common_carton()
    assert np.all(np.diff([ua(design, mass, 8.0) for mass in np.linspace(5, 100, 40)]) > 0)


@pytest.mark.parametrize(
    ("name", "values"),
    [
        ("insulation_conductivity", [0.02, 0.06, 0.12]),
        ("board_conductivity", [0.05, 0.08, 0.12]),
    ],
)
def test_what_conducts_better_lets_more_heat_in(name, values):
    cartons = [common_carton(**{name: value}) for value in values]
    assert np.all(np.diff([ua(design, 90, 8.0) for design in cartons]) > 0)


def test_more_wind_lets_more_heat_in():
    assert np.all(np.diff([ua(common_carton(), 90, film) for film in (1, 5, 8, 20, 100)]) > 0)


def test_k_is_ua_over_the_geometric_mean_of_both_surfaces():
    """UNECE, ATP agreement, Annex 1, Appendix 2: K = UA / √(Si So)."""
    inside, outside = room(bare()), (0.80, 0.65, 0.65)
    si, so = (2 * (a * b + a * c + b * c) for a, b, c in (inside, outside))
    assert atp_k(bare(), film=8.0) == pytest.approx(
        ua(bare(), capacity(bare()), 8.0) / (si * so) ** 0.5, rel=1e-12
    )


def test_k_of_a_large_thin_wall_is_the_u_value_of_the_wall():
    """Where edges do not matter, K is 1 / (film + board + insulation); here they matter by 2 %."""
    wide = common_carton(
        outer_length=2.5, outer_width=2.5, outer_height=2.5, board_thickness=0.0, insulation=(0.02,) * 6
    )
    assert atp_k(wide, film=8.0) == pytest.approx(1 / (0.02 / 0.07 + 1 / 8), rel=0.02)


def test_foam_of_8_cm_is_heavily_insulated_and_10_cm_of_shavings_only_normally():
    """ATP: normally insulated K ≤ 0.70, heavily K ≤ 0.40 W/(m² K). 8 cm of foam of 0.020–0.026 (from memory)
    are 0.33 at the worst, 10 cm of packed shavings 0.70; board and film lower both."""
    foam = common_carton(insulation=(0.08,) * 6, insulation_conductivity=0.026)
    assert atp_k(foam, film=STILL) < 0.40 < atp_k(common_carton(), film=STILL) < 0.70


@pytest.mark.parametrize("film", [0.0, -8.0, float("nan"), float("inf"), [8, 8, 8, 0.0, 8, 8]])
def test_a_film_that_cannot_be_is_refused(film):
    design = common_carton()
    for call in (lambda: conductance(design, load(design, 50), film=film), lambda: atp_k(design, film=film)):
        with pytest.raises(ValueError, match=r"^film must be above 0 W/\(m² K\), not"):
            call()


@pytest.mark.parametrize("film", [[8.0] * 5, [8.0] * 7, []])
def test_films_that_fit_no_face_are_refused(film):
    design = common_carton()
    with pytest.raises(ValueError, match=r"^film must be one number or six, not"):
        conductance(design, load(design, 50), film=film)


def test_a_bare_face_has_no_shape_factor():
    design = common_carton(insulation=(0.1, 0.1, 0.1, 0.0, 0.1, 0.1))
    with pytest.raises(ValueError, match=r"^insulation must be above 0 m on every face, not 0\.0$"):
        shape_factor(design, full(design))
