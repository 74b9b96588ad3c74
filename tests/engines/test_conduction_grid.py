"""The grid in use: fine enough, symmetric where the carton is, and refusing what it cannot describe."""

import numpy as np
import pytest

from coop.engines.carton import load
from coop.engines.conduction_grid import brick_grid, carton_grid
from tests.engines.conduction_cases import CASES, common_carton, grid_of, hold_hours, warm


@pytest.mark.parametrize("case", CASES)
@pytest.mark.parametrize(("reading", "limit"), [("softened_share", 0.05), ("mean", -5.0), ("core", -5.0),
                                                ("warmest", -5.0)])  # fmt: skip
def test_a_grid_twice_as_fine_moves_the_hold_by_less_than_3_per_cent(case, reading, limit):
    coarse, fine = (
        hold_hours(warm(common_carton(), **case, hours=140, refinement=r), limit, reading)[0] for r in (1, 2)
    )
    assert coarse == pytest.approx(fine, rel=0.03)


def test_a_quarter_equals_the_whole_box():
    carton, mass = common_carton(), 100.0
    whole = carton_grid(carton=carton, load=load(carton, mass), mirror=False)
    quarter, box = warm(carton, hours=48), warm(carton, hours=48, grid=whole)
    for by_quarter, by_box in zip(quarter[1:], box[1:], strict=True):
        np.testing.assert_allclose(by_quarter, by_box, rtol=1e-6, atol=1e-6)


def test_sunshine_on_one_side_warms_as_much_as_on_the_other():
    carton = common_carton()
    grid = carton_grid(carton=carton, load=load(carton, 100.0), mirror=False)
    curves = []
    for side in (0, 1):
        outside = np.full((1, 96, 6), 25.0)
        outside[..., side] = 60.0
        curves.append(warm(carton, outside=outside, hours=48, grid=grid, insulation_start=25.0))
    np.testing.assert_allclose(curves[0].heat_gained, curves[1].heat_gained, rtol=1e-9)
    np.testing.assert_allclose(curves[0].softened_share, curves[1].softened_share, atol=1e-9)


def test_a_wall_without_insulation_is_refused():
    carton = common_carton(insulation=(0.1, 0.1, 0.1, 0.1, 0.001, 0.1))
    with pytest.raises(ValueError, match=r"insulation is 0\.001 m"):
        carton_grid(carton=carton, load=load(carton, 50.0))


def test_the_cells_fill_the_carton():
    carton = common_carton()
    grid = grid_of(carton, 60.0)
    inside = (1.0 - 0.01) * (0.7 - 0.01) * (0.7 - 0.01)
    assert grid.symmetry * grid.volume.sum() == pytest.approx(inside)
    fish = grid.symmetry * grid.volume[grid.is_fish].sum()
    assert fish * carton.stowage_density == pytest.approx(60.0)


def test_a_thin_layer_of_fish_is_not_cut_into_slivers():
    layer = grid_of(common_carton(), 5.0)
    assert layer.widths[2][layer.fish_from[2] : layer.fish_to[2]].min() > 0.01


def test_a_width_that_is_not_positive_is_refused():
    with pytest.raises(ValueError, match="widths along y"):
        brick_grid(widths=([0.1], [0.1, 0.0], [0.1]), fish_from=(0, 0, 0), fish_to=(1, 2, 1))
