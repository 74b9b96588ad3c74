"""Shape factors of boxes, against a printed table and against finite volumes."""

import numpy as np
import pytest

from coop.engines.shape_factor import edge_factor, wall_shapes
from tests.engines.steady_box import numerical_shape_factor

COMMON = (0.79, 0.49, 0.49)


def shape_factor(sides, thickness):
    return (wall_shapes(sides=sides, thickness=thickness) / thickness).sum()


def test_walls_of_one_thickness_have_the_shape_factor_of_langmuir():
    """Incropera & DeWitt, Table 4.1: walls A/L, edges 0.54 D, corners 0.15 L: 18.21 m to two decimals."""
    assert shape_factor((0.60, 0.45, 0.45), np.full(6, 0.1)) == pytest.approx(18.21, abs=0.005)


def test_a_cube_has_the_shape_factor_of_langmuir():
    """The same table written out: 6 a²/L + 12 · 0.54 a + 8 · 0.15 L."""
    expected = 6 * 0.5**2 / 0.2 + 12 * 0.54 * 0.5 + 8 * 0.15 * 0.2
    assert shape_factor((0.5, 0.5, 0.5), np.full(6, 0.2)) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(
    ("sides", "thickness", "tolerance"),
    [
        ((0.60, 0.45, 0.45), (0.1, 0.1, 0.1, 0.1, 0.1, 0.1), 0.01),
        ((0.79, 0.49, 0.25), (0.1, 0.1, 0.1, 0.1, 0.1, 0.34), 0.01),
        ((0.60, 0.40, 0.40), (0.15, 0.05, 0.05, 0.15, 0.1, 0.2), 0.01),
        ((0.50, 0.50, 0.50), (0.02, 0.02, 0.2, 0.2, 0.02, 0.2), 0.01),
        # Fish flatter than its walls are thick: at the end of what Langmuir's corners stand for.
        ((0.79, 0.49, 0.10), (0.1, 0.1, 0.1, 0.1, 0.1, 0.48), 0.02),
    ],
)
def test_unlike_walls_leak_as_finite_volumes_say(sides, thickness, tolerance):
    """1 % is what Langmuir's own 18.21 m lies off the fine solution of 18.3 m, and some."""
    numerical = numerical_shape_factor(sides, np.reshape(thickness, (3, 2)))
    assert shape_factor(sides, thickness) == pytest.approx(numerical, rel=tolerance)


def test_finite_volumes_give_what_others_computed():
    """A fine three-dimensional solution of this box gave 18.3 m: three figures."""
    assert numerical_shape_factor((0.60, 0.45, 0.45), [(0.1, 0.1)] * 3) == pytest.approx(18.3, abs=0.05)


def test_an_edge_between_like_walls_is_langmuirs():
    assert edge_factor([0.01, 0.1, 3.0], [0.01, 0.1, 3.0]) == pytest.approx([0.54] * 3, rel=1e-12)


def test_an_edge_does_not_know_which_wall_comes_first_or_how_long_a_metre_is():
    one, other = np.array([0.02, 0.1, 0.1]), np.array([0.1, 0.1, 0.48])
    np.testing.assert_allclose(edge_factor(one, other), edge_factor(other, one), rtol=1e-14)
    np.testing.assert_allclose(edge_factor(one, other), edge_factor(1000 * one, 1000 * other), rtol=1e-14)


def test_the_more_unlike_the_walls_the_more_their_edge_leaks():
    assert np.all(np.diff(edge_factor(np.linspace(0.1, 1, 100), 0.1)) > 0)


def test_beside_a_wall_that_is_all_but_missing_an_edge_leaks_no_more():
    assert edge_factor([0.0, 1e-320, 0.005, 0.02], 0.2) == pytest.approx([edge_factor(0.02, 0.2)] * 4)
    assert edge_factor(0.0, 0.0) == 0.54


def test_a_mirrored_box_leaks_the_same():
    walls = np.array([0.05, 0.15, 0.1, 0.08, 0.1, 0.3])
    turned = walls.reshape(3, 2)[:, ::-1].ravel()
    assert shape_factor(COMMON, turned) == pytest.approx(shape_factor(COMMON, walls), rel=1e-14)


def test_it_does_not_matter_which_side_is_called_length():
    walls = np.array([0.05, 0.15, 0.1, 0.08, 0.1, 0.3])
    turned = np.roll(walls.reshape(3, 2), 1, axis=0).ravel()
    assert shape_factor(np.roll(COMMON, 1), turned) == pytest.approx(shape_factor(COMMON, walls), rel=1e-14)


def test_a_box_twice_as_large_with_walls_twice_as_thick_leaks_twice_as_much():
    walls = np.array([0.05, 0.15, 0.1, 0.08, 0.1, 0.3])
    twice = shape_factor(np.multiply(2, COMMON), 2 * walls)
    assert twice == pytest.approx(2 * shape_factor(COMMON, walls), rel=1e-14)


def test_a_missing_wall_conducts_through_its_area():
    bare = wall_shapes(sides=COMMON, thickness=[0.1, 0.1, 0.1, 0.1, 0.1, 0.0])
    assert bare[5] == pytest.approx(0.79 * 0.49, rel=1e-14)


@pytest.mark.parametrize("value", [0.0, -0.1, float("nan"), float("inf")])
def test_a_side_that_cannot_be_is_refused(value):
    with pytest.raises(ValueError, match=rf"^sides must be above 0 m, not {value}$"):
        wall_shapes(sides=[0.5, value, 0.5], thickness=np.full(6, 0.1))


@pytest.mark.parametrize("value", [-0.1, float("nan"), float("inf")])
def test_a_thickness_that_cannot_be_is_refused(value):
    with pytest.raises(ValueError, match=rf"^thickness must be 0 m or more, not {value}$"):
        wall_shapes(sides=COMMON, thickness=[0.1, 0.1, value, 0.1, 0.1, 0.1])
    with pytest.raises(ValueError, match=rf"^a must be 0 m or more, not {value}$"):
        edge_factor(value, 0.1)
    with pytest.raises(ValueError, match=rf"^b must be 0 m or more, not {value}$"):
        edge_factor(0.1, value)
