"""Where nodes are put: against surfaces whose straight pieces are known."""

from itertools import pairwise

import numpy as np
import pytest

from coop.engines.carton import load
from coop.engines.conduction_grid import carton_grid
from coop.selectors.engine_inputs import carton_of
from coop.selectors.reckoning import LOADS
from coop.selectors.reckoning_nodes import (
    MOST_NODES,
    USUAL_START,
    bend,
    candidates,
    chosen,
    drawn,
    missed,
    overshoot,
)
from tests.factories.cartons import CartonDesignFactory

MASSES = tuple(np.linspace(10.0, 100.0, 19))
STARTS = (-30.0, -26.0, -22.0, -18.0, -14.0, -10.0)
HOUR = 3600.0


def surface(along_mass, along_start=lambda start: 20.0 - start):
    return np.array([[along_mass(mass) * along_start(start) * HOUR for start in STARTS] for mass in MASSES])


def test_a_surface_that_is_straight_needs_its_ends_and_the_usual_start_temperature_only():
    rows, columns = chosen(surface(lambda mass: 1 + mass / 100), MASSES, STARTS)
    assert rows == [0, len(MASSES) - 1]
    assert [STARTS[column] for column in columns] == [STARTS[0], USUAL_START, STARTS[-1]]


def test_a_bend_gets_a_node():
    rows, _ = chosen(surface(lambda mass: 1 + max(mass - 55, 0) / 10), MASSES, STARTS)
    assert 55.0 in [MASSES[row] for row in rows]


def test_however_wild_it_is_there_are_not_more_nodes_than_allowed():
    wild = np.random.default_rng(3).uniform(1, 40, (len(MASSES), len(STARTS))) * HOUR
    rows, columns = chosen(wild, MASSES, STARTS)
    assert len(rows) * len(columns) <= MOST_NODES


def test_lowered_by_its_overshoot_no_straight_line_lies_above_a_candidate():
    holds = np.random.default_rng(4).uniform(5, 40, (len(MASSES), len(STARTS))) * HOUR
    rows, columns = [0, 7, 18], [0, 2, 5]
    over = overshoot(holds, MASSES, STARTS, rows, columns)
    lowered = holds.copy()
    lowered[np.ix_(rows, columns)] *= 1 - over
    assert (drawn(lowered, MASSES, STARTS, rows, columns) <= holds * (1 + 1e-9)).all()
    assert missed(holds, MASSES, STARTS, rows, columns).max() > 0.1


@pytest.mark.parametrize("bends_at", [26.0, 37.4, 52.5, 58.9, 73.0])
def test_lowered_by_its_bend_no_straight_line_lies_above_a_hold_that_bends_between_candidates(bends_at):
    def truth(mass):
        return 1 + np.maximum(mass - bends_at, 0) / 10

    holds, between = surface(truth), np.linspace(MASSES[0], MASSES[-1], 1000)
    every = list(range(len(MASSES))), list(range(len(STARTS)))
    lowered = holds * (1 - bend(holds, MASSES, STARTS, *every))
    for column, start in enumerate(STARTS):
        true = truth(between) * (20.0 - start) * HOUR
        assert (np.interp(between, MASSES, holds[:, column]) > true * 1.01).any()
        assert (np.interp(between, MASSES, lowered[:, column]) <= true * (1 + 1e-9)).all()


def test_a_surface_that_is_straight_is_not_lowered():
    holds = surface(lambda mass: 1 + mass / 100)
    every = list(range(len(MASSES))), list(range(len(STARTS)))
    assert np.abs(bend(holds, MASSES, STARTS, *every)).max() < 1e-6


@pytest.mark.parametrize(
    "sizes",
    [{}, {"outer_height_m": 0.62}, {"outer_length_m": 0.6, "outer_width_m": 0.45, "outer_height_m": 0.45}],
    ids=["common", "low", "small"],
)
def test_where_the_cells_of_the_fish_change_a_candidate_stands_on_either_side_a_gram_apart(sizes):
    design = CartonDesignFactory.build(cooperative=None, **sizes)
    carton, masses = carton_of(design), candidates(design, LOADS)

    def layers(mass):
        grid = carton_grid(carton=carton, load=load(carton, mass))
        return grid.fish_to[2] - grid.fish_from[2]

    changes = [pair for pair in pairwise(masses) if layers(pair[0]) != layers(pair[1])]
    assert changes
    assert all(round(above - below, 6) == 0.001 for below, above in changes)
