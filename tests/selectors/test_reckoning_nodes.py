"""Where nodes are put: against surfaces whose straight pieces are known."""

import numpy as np

from coop.selectors.reckoning_nodes import MOST_NODES, USUAL_START, chosen, drawn, missed, overshoot

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
