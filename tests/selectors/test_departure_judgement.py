"""What a departure means, on tables that are known by hand."""

import numpy as np
import pytest

from coop.engines.departure import Draws, HoldTable, Receiving
from coop.selectors.departure_judgement import judge, kept_back
from coop.selectors.thermal_runs import DEVIATIONS, HoldRuns

HOUR = 3600.0
ALWAYS = Receiving(np.array([-HOUR]), np.array([np.inf]), np.inf)


def runs(hold=40.0):
    """A carton that holds so many hours whatever the trip and the wall."""

    def same(waits):
        waits = np.array(waits) * HOUR
        shape = (len(waits), 2, 2)
        return HoldTable(
            waits, np.array([10.0, 30.0]) * HOUR, np.array([-3.0, 3.0]), np.full(shape, hold * HOUR)
        )

    softened = np.zeros((2, len(DEVIATIONS), 100))
    return HoldRuns(same([2.0]), same([2.0, 50.0]), same([1.0, 50.0]), softened, 96 * HOUR)


def judged(*, hold=40.0, receiving=ALWAYS, wait=2.0, travel=20.0, confidence=0.9):
    times = np.linspace(travel - 5, travel + 5, 1001) * HOUR
    draws = Draws(np.zeros(1001), times, np.zeros(1001))
    return judge(
        runs=runs(hold), travel=np.array([10.0, 30.0]) * HOUR, draws=draws, receiving=receiving,
        wait=wait * HOUR, lead=HOUR, confidence=confidence,
    )  # fmt: skip


def test_a_carton_that_holds_long_enough_is_safe():
    found = judged()
    assert found.reason is None
    assert found.chance_hard == 1.0
    # The ninth decile of the trip is 24 h: 40 − 24 h of waiting, a twentieth kept back beyond 2 h.
    assert found.latest_departure / HOUR == pytest.approx(2 + 0.95 * (16 - 2), abs=0.02)
    assert found.margin / HOUR == pytest.approx(40 - 26, abs=0.02)
    np.testing.assert_allclose(np.array(found.window) / HOUR, [18, 22, 26], atol=0.02)


@pytest.mark.parametrize(
    ("case", "reason"),
    [
        ({"hold": 20.0}, "hold_too_short"),
        ({"hold": 0.0}, "start_too_warm"),
        ({"receiving": ALWAYS._replace(deadline=20 * HOUR)}, "arrives_after_deadline"),
        ({"receiving": Receiving(np.array([45.0]) * HOUR, np.array([50.0]) * HOUR, np.inf)}, "buyer_closed"),
        ({"wait": 20.0}, "closed_too_early"),
    ],
)
def test_an_unsafe_departure_says_what_would_have_to_change(case, reason):
    found = judged(**case)
    assert found.reason == reason
    assert found.margin <= 0


def test_a_vehicle_that_often_leaves_late_is_safe_only_up_to_an_hour():
    times = np.full(1000, 20.0) * HOUR
    draws = Draws(np.where(np.arange(1000) % 5 == 0, 30.0, 0.0) * HOUR, times, np.zeros(1000))
    found = judge(
        runs=runs(), travel=np.array([10.0, 30.0]) * HOUR, draws=draws, receiving=ALWAYS,
        wait=2 * HOUR, lead=HOUR, confidence=0.9,
    )  # fmt: skip
    assert found.chance_hard == pytest.approx(0.8)
    assert found.reason == "may_leave_late"
    assert found.latest_departure > 2 * HOUR


def test_chances_by_hour_never_rise():
    chances = [chance for _, chance in judged().chances]
    assert chances == sorted(chances, reverse=True)
    assert chances[0] == 1.0


def test_only_what_lies_beyond_the_planned_wait_is_kept_back():
    assert kept_back(5.0, 10.0) == 5.0
    assert kept_back(30.0, 10.0) == 29.0
    assert kept_back(-np.inf, 10.0) == -np.inf
