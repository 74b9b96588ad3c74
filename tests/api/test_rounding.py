from datetime import datetime
from zoneinfo import ZoneInfo

import pytest

from api.rounding import down, hours_down, hours_up, minute_down, minute_up, nearest, up, written

LUSAKA = ZoneInfo("Africa/Lusaka")


@pytest.mark.parametrize(
    ("value", "decimals", "lower", "upper"),
    [
        (0.9739, 3, 0.973, 0.974),
        (0.29, 2, 0.29, 0.29),
        (-9.04, 1, -9.1, -9.0),
        (35.0, 1, 35.0, 35.0),
        (1e-9, 4, 0.0, 0.0001),
        (-1e-9, 1, -0.1, 0.0),
    ],
)
def test_a_number_is_rounded_to_the_side_that_is_asked_for(value, decimals, lower, upper):
    assert (down(value, decimals), up(value, decimals)) == (lower, upper)


@pytest.mark.parametrize("value", [None, float("nan"), float("inf"), float("-inf")])
def test_what_is_no_number_is_null(value):
    assert [towards(value, 1) for towards in (nearest, down, up)] == [None] * 3


def test_a_zero_has_no_sign():
    assert str(nearest(-0.001, 1)) == "0.0"


def test_hours_of_hope_are_fewer_and_hours_of_need_are_more():
    assert (hours_down(3 * 3600 + 359), hours_up(3 * 3600 + 1)) == (3.0, 3.1)


def test_minutes_are_whole():
    instant = datetime(2026, 3, 2, 15, 20, 30, 5, tzinfo=LUSAKA)
    assert minute_down(instant) == datetime(2026, 3, 2, 15, 20, tzinfo=LUSAKA)
    assert minute_up(instant) == datetime(2026, 3, 2, 15, 21, tzinfo=LUSAKA)
    assert minute_up(minute_down(instant)) == minute_down(instant)
    assert minute_up(None) is minute_down(None) is None


def test_an_instant_is_told_by_the_clock_of_the_place():
    assert written(datetime.fromisoformat("2026-03-02T13:20:00+00:00"), LUSAKA) == "2026-03-02T15:20:00+02:00"
    assert written(None, LUSAKA) is None
