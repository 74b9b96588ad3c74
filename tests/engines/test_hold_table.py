"""Holds between runs: exact where the level is straight, and never longer than what was followed."""

import numpy as np
import pytest

from coop.engines.departure import HoldTable
from coop.engines.hold_table import Nodes, anchored, hold_table

HOUR = 3600.0
RUNS = Nodes(np.array([0.0]), np.array([10.0, 20.0]) * HOUR, np.array([-1.0, 2.0]))
FINE = Nodes(None, np.linspace(10, 20, 5) * HOUR, np.linspace(-2, 3, 11))


def straight(count=60):
    """A level that rises by (2 + deviation + travel/10 h) / 10 an hour from −3: it passes 0 when known."""
    travel, deviation = RUNS.travel[:, None, None] / (10 * HOUR), RUNS.deviation[None, :, None]
    return (-3 + np.arange(count) * (2 + deviation + travel) / 10)[None]


def made(level, end=100.0, limit=0.0):
    return hold_table(
        runs=RUNS, level=level, end=np.full((1, 2), end * HOUR), limit=limit, reading_step=HOUR, fine=FINE
    )


def test_a_straight_level_gives_the_exact_hold_at_every_journey_and_wall():
    found = made(straight())
    slope = (2 + FINE.deviation[None, :] + FINE.travel[:, None] / (10 * HOUR)) / 10
    np.testing.assert_allclose(found.hold[0], 3 / slope * HOUR)


def test_the_end_that_a_run_left_out_is_drawn_on():
    level = straight()
    level[:, :, 1, 20:] = np.nan
    np.testing.assert_allclose(made(level).hold, made(straight()).hold)


def test_a_hold_is_never_longer_than_what_was_followed():
    assert made(straight(), end=8.0).hold.max() <= 9 * HOUR
    assert made(straight(), limit=1e6).hold.max() <= 59 * HOUR


def test_a_level_that_is_passed_from_the_start_gives_no_hold():
    assert np.all(made(straight(), limit=-4.0).hold == 0)


def test_one_run_serves_every_node():
    only = Nodes(np.array([0.0]), np.array([10.0]) * HOUR, np.array([0.0]))
    level = (-3 + np.arange(60) * 0.3)[None, None, None]
    found = hold_table(
        runs=only, level=level, end=np.full((1, 1), 1e9), limit=0.0, reading_step=HOUR, fine=FINE
    )
    np.testing.assert_allclose(found.hold, 10 * HOUR)


def test_a_table_is_put_right_at_the_wait_that_it_shares():
    few = HoldTable(np.array([0.0, 5.0]), np.ones(1), np.zeros(1), np.array([[[100.0]], [[80.0]]]))
    many = HoldTable(np.array([0.0]), np.ones(1), np.zeros(1), np.array([[[110.0]]]))
    np.testing.assert_allclose(
        anchored(few, planned=many, wait=0.0, followed=np.zeros(1)).hold.ravel(), [110.0, 88.0]
    )
    with pytest.raises(ValueError, match="wait must be one of"):
        anchored(few, planned=many, wait=3.0, followed=np.zeros(1))
    with pytest.raises(ValueError, match="nodes of the table"):
        anchored(few, planned=many._replace(travel=np.zeros(1)), wait=0.0, followed=np.zeros(1))


def test_beyond_the_walls_that_were_run_a_wait_shortens_the_hold_as_in_the_nearest():
    walls, wild = np.array([-2.0, 0.0, 1.0, 2.0]), 700.0
    few = HoldTable(
        np.array([0.0, 5.0]),
        np.ones(1),
        walls,
        np.array([[[wild, 100.0, 80.0, wild]], [[50.0, 90.0, 60.0, 1.0]]]),
    )
    many = HoldTable(np.array([0.0]), np.ones(1), walls, np.array([[[150.0, 120.0, 80.0, 40.0]]]))
    found = anchored(few, planned=many, wait=0.0, followed=np.array([0.0, 1.0])).hold[:, 0]
    np.testing.assert_allclose(found[0, 1:], [120.0, 80.0, 40.0])
    np.testing.assert_allclose(found[1], [135.0, 108.0, 60.0, 30.0])


def test_a_wall_that_outlasts_the_planned_run_holds_as_long_as_a_longer_wait_was_followed():
    walls = np.array([-1.0, 0.0, 1.0])
    few = HoldTable(
        np.array([0.0, 5.0]), np.ones(1), walls, np.array([[[100.0, 90.0, 80.0]], [[130.0, 90.0, 80.0]]])
    )
    many = HoldTable(np.array([0.0]), np.ones(1), walls, np.array([[[100.0, 95.0, 80.0]]]))
    found = anchored(few, planned=many, wait=0.0, followed=np.array([0.0, 1.0])).hold[:, 0]
    np.testing.assert_allclose(found[1], [130.0, 95.0, 80.0])


def test_a_reading_step_that_is_not_positive_is_refused():
    with pytest.raises(ValueError, match="reading_step"):
        hold_table(runs=RUNS, level=straight(), end=np.ones((1, 2)), limit=0.0, reading_step=0.0, fine=FINE)
