"""The runs behind a departure: stages in order, and a hold that follows the trip and the wall."""

import numpy as np
import pytest

from coop.engines.ambient import Carries
from coop.engines.carton import load
from coop.engines.fish import Flesh
from coop.selectors import thermal_runs
from coop.selectors.thermal_runs import Outing, Packed, hold_tables, waits_after
from coop.selectors.thermal_runs_way import stages_of, way_of
from tests.engines.conduction_cases import common_carton
from tests.engines.test_ambient import weather

HOUR = 3600.0
COD = Flesh(0.803, 0.18, 0.006, 0.011)


def way(rides=Carries.ROOF):
    legs = [(0, 1, 6 * HOUR, 0.5 * HOUR), (1, 0, 4 * HOUR, 0.0)]
    return way_of(
        legs, rides=rides, waits=Carries.SHADE, waits_at_buyer=Carries.SUN, last_stretch=HOUR, offset=3.0
    )


def outing(wait=2.0, **changes):
    travel = np.array([9.0, 12.0, 20.0]) * HOUR
    sky = weather(days=12, **changes)
    return Outing(weather=sky, way=way(), closing=40 * HOUR, wait=wait * HOUR, lead=HOUR, travel=travel)


def packed(kind="softened_share", value=0.05, start=-18.0):
    carton = common_carton()
    return Packed(carton, load(carton, 80.0), COD, start, 0.25, kind, value)


def test_a_carton_on_the_roof_stands_in_the_sun_while_the_vehicle_stops():
    on_roof, inside = way(), way(Carries.CABIN)
    assert list(on_roof.carries) == [
        Carries.SHADE,
        Carries.ROOF,
        Carries.SUN,
        Carries.ROOF,
        Carries.SUN,
        Carries.SUN,
    ]
    assert list(inside.carries)[1:5] == [Carries.CABIN] * 4


def test_stages_are_stretched_to_the_travel_time_with_the_last_stretch_left_over():
    stages = stages_of(way(), np.array([2 * HOUR, 0.0]), np.array([way().mean_travel, 2 * way().mean_travel]))
    np.testing.assert_allclose(stages.ends[0, :-1] / HOUR, [2, 8, 8.5, 12.5, 12.5])
    np.testing.assert_allclose(stages.ends[1, :-1] / HOUR, [0, 12, 13, 21, 21])


def test_shorter_waits_are_run_too_where_the_carton_is_closed_long_before():
    assert waits_after(HOUR)[0] == HOUR
    assert list(waits_after(10 * HOUR)[:2] / HOUR) == [0, 5]


def test_a_poorer_wall_never_holds_longer():
    runs = hold_tables(packed(), outing())
    for table in (runs.planned, runs.by_wait, runs.by_closing):
        assert np.all(np.diff(table.hold, axis=2) <= 1e-6)
        assert np.all(table.hold >= 0)


def test_hotter_weather_never_holds_longer():
    mild = hold_tables(packed(), outing())
    hot = hold_tables(packed(), outing(maximum=(38.0, 34.0), minimum=(26.0, 22.0)))
    assert np.all(hot.planned.hold <= mild.planned.hold)


@pytest.mark.parametrize(("kind", "value"), [("core_c", -12.0), ("mean_c", -9.0), ("warmest_c", -5.0)])
def test_a_limit_on_a_temperature_is_passed_before_fish_softens(kind, value):
    softens = hold_tables(packed(), outing()).planned.hold
    passes = hold_tables(packed(kind, value), outing()).planned.hold
    assert np.all(passes <= softens)
    assert np.all(passes[..., -1] < softens[..., -1])


def test_fish_that_is_soft_already_has_no_hold():
    assert np.all(hold_tables(packed(start=-1.5), outing()).planned.hold == 0)


def test_runs_end_within_the_horizon():
    assert hold_tables(packed(start=-40.0), outing(wait=90.0)).planned_end <= thermal_runs.HORIZON
