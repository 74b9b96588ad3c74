"""The last safe hour against a plain search, and what must hold for any journey."""

import numpy as np
import pytest
from scipy import stats

from coop.engines import departure
from coop.engines.departure import Draws, HoldTable, Receiving
from coop.engines.journey_time import receive

HOUR = 3600.0
ALWAYS = Receiving(np.zeros(1), np.full(1, np.inf), np.inf)
OFFICE = Receiving(
    np.array([7.0, 31.0, 79.0, 103.0]) * HOUR, np.array([17.0, 41.0, 89.0, 113.0]) * HOUR, 130 * HOUR
)
"""Ten hours a day, and a day on which nobody is there."""


def table(*, waits=(1.0, 6.0, 20.0, 60.0), hold=30.0, bends=0.0):
    """Hold h by wait, travel and deviation: shorter for poorer walls, with bends from wait to wait."""
    waits, travel = np.array(waits) * HOUR, np.array([10.0, 20.0, 30.0]) * HOUR
    deviation = np.array([-2.0, 0.0, 2.0])
    shape = np.exp(-0.2 * deviation)[None, None, :] * (1 - 0.05 * np.arange(3))[None, :, None]
    by_wait = (hold + bends * np.array([0.0, 1.0, -1.0, 0.5]))[: len(waits), None, None]
    return HoldTable(waits, travel, deviation, by_wait * shape * HOUR)


def draws(count=400, seed=3):
    rng = np.random.default_rng(seed)
    return Draws(
        rng.exponential(0.7, count) * HOUR, (9 + rng.gamma(4, 3, count)) * HOUR, rng.standard_normal(count)
    )


def brute_force(table, one, receiving, first):
    """The last wait that is still hard, by walking on in half minutes."""
    waits = np.arange(first, table.wait[-1] + 30, 30.0)
    _, travel, deviation = one
    k = np.clip(np.searchsorted(table.deviation, deviation, side="right") - 1, 0, 1)
    weight = (deviation - table.deviation[k]) / (table.deviation[k + 1] - table.deviation[k])
    by_travel = table.hold[:, :, k] + np.clip(weight, 0, 1) * (table.hold[:, :, k + 1] - table.hold[:, :, k])
    hold = [np.interp(travel, table.travel, row) for row in by_travel]
    holds = np.interp(waits, table.wait, hold)
    over = receive(waits + travel, opens=receiving.opens, closes=receiving.closes)
    hard = np.minimum(holds, receiving.deadline) >= over
    return -np.inf if not hard[0] else waits[hard.argmin() - 1] if not hard.all() else waits[-1]


@pytest.mark.parametrize("receiving", [ALWAYS, OFFICE])
@pytest.mark.parametrize("case", [{}, {"hold": 45.0}, {"hold": 60.0, "bends": 3.0}, {"waits": (2.0,)}])
def test_the_last_hard_wait_is_what_a_plain_search_finds(receiving, case):
    some = draws()
    holds = table(**case)
    found = departure.last_hard_departures(table=holds, draws=some, receiving=receiving)
    for got, *one in zip(found, *some, strict=True):
        expected = brute_force(holds, one, receiving, 0.0)
        assert got == expected if np.isinf(expected) else expected - 1e-6 <= got <= expected + 30.0


def test_hand_over_and_hold_are_those_of_the_planned_departure():
    some = draws()
    found = departure.as_planned(table=table(), draws=some, receiving=OFFICE, wait=2 * HOUR)
    arrival = 2 * HOUR + some.delay + some.travel
    np.testing.assert_allclose(found.handed_over, receive(arrival, opens=OFFICE.opens, closes=OFFICE.closes))
    middle = departure.as_planned(
        table=table(),
        draws=Draws(np.zeros(1), np.full(1, 20 * HOUR), np.zeros(1)),
        receiving=ALWAYS,
        wait=HOUR,
    )
    assert middle.hold[0] == pytest.approx(30 * 0.95 * HOUR)


def test_waiting_longer_is_never_likelier_to_arrive_hard():
    last = departure.last_hard_departures(table=table(hold=45.0, bends=4.0), draws=draws(), receiving=OFFICE)
    chances = departure.chance_hard(last=last, wait=np.arange(0, 60) * HOUR)
    assert chances[0] > 0
    assert np.all(np.diff(chances) <= 0)


def test_the_safe_wait_is_the_longest_that_keeps_the_confidence():
    last = np.arange(100.0)
    for confidence in (0.5, 0.9, 0.95, 0.99):
        wait = departure.safe_wait(last=last, confidence=confidence)
        assert departure.chance_hard(last=last, wait=wait)[0] >= confidence
        assert departure.chance_hard(last=last, wait=wait + 1e-6)[0] < confidence


def test_no_wait_is_safe_where_too_many_draws_are_soft_from_the_start():
    last = np.concatenate([np.full(6, -np.inf), np.full(94, 1e5)])
    assert departure.safe_wait(last=last, confidence=0.95) == -np.inf
    assert departure.safe_wait(last=last, confidence=0.94) == 1e5


def test_a_constant_hold_gives_the_quantile_of_the_journey():
    """With hold C, no delay and a buyer who is always there, the safe wait is C less the 95th percentile."""
    travel = stats.lognorm(0.2, scale=20 * HOUR).ppf((np.arange(20000) + 0.5) / 20000)
    same = HoldTable(
        np.array([0.0, 40.0]) * HOUR, np.array([20.0]) * HOUR, np.array([0.0]), np.full((2, 1, 1), 48 * HOUR)
    )
    some = Draws(np.zeros(20000), travel, np.zeros(20000))
    last = departure.last_hard_departures(table=same, draws=some, receiving=ALWAYS)
    expected = 48 * HOUR - stats.lognorm(0.2, scale=20 * HOUR).ppf(0.95)
    assert departure.safe_wait(last=last, confidence=0.95) == pytest.approx(expected, abs=20)


def test_nothing_is_promised_of_waits_that_were_not_run():
    holds = table(waits=(1.0, 6.0), hold=500.0)
    last = departure.last_hard_departures(table=holds, draws=draws(), receiving=ALWAYS)
    assert last.max() == 6 * HOUR


def test_the_earliest_closing_leaves_the_hold_for_the_journey():
    same = HoldTable(
        np.array([1.0, 30.0]) * HOUR, np.array([20.0]) * HOUR, np.array([0.0]), np.full((2, 1, 1), 36 * HOUR)
    )
    some = Draws(np.full(3, 0.5 * HOUR), np.array([20.0, 25.0, 40.0]) * HOUR, np.zeros(3))
    found = departure.earliest_closings(table=same, draws=some, receiving=ALWAYS, first=HOUR)
    np.testing.assert_allclose(found, [15.5 * HOUR, 10.5 * HOUR, -np.inf])


def test_a_deadline_counts_as_much_as_the_hold():
    late = ALWAYS._replace(deadline=25 * HOUR)
    some = Draws(np.zeros(2), np.array([20.0, 26.0]) * HOUR, np.zeros(2))
    found = departure.last_hard_departures(table=table(hold=100.0), draws=some, receiving=late, first=HOUR)
    np.testing.assert_allclose(found, [5 * HOUR, -np.inf])


def test_softened_shares_are_read_between_journeys_walls_and_hours():
    softened = np.array([[[0.0, 0.1, 0.2], [0.0, 0.2, 0.4]], [[0.0, 0.3, 0.6], [0.0, 0.4, np.nan]]])
    some = Draws(np.zeros(3), np.array([10.0, 15.0, 20.0]) * HOUR, np.array([0.0, 0.5, 1.0]))
    shares = departure.expected_softened_share(
        travel_nodes=np.array([10.0, 20.0]) * HOUR, deviation_nodes=np.array([0.0, 1.0]), softened=softened,
        reading_step=HOUR, draws=some, handed_over=np.array([0.5, 1.0, 1.5]) * HOUR,
    )  # fmt: skip
    np.testing.assert_allclose(shares, [0.05, 0.25, 0.7])


def test_a_hand_over_after_the_run_counts_as_soft():
    shares = departure.expected_softened_share(
        travel_nodes=np.array([1.0]), deviation_nodes=np.array([0.0]), softened=np.zeros((1, 1, 3)),
        reading_step=HOUR, draws=Draws(*np.zeros((3, 2))), handed_over=np.array([5 * HOUR, np.inf]),
    )  # fmt: skip
    np.testing.assert_array_equal(shares, [1.0, 1.0])


def test_an_array_equals_its_scalars():
    some = draws(50)

    def run(rows):
        case = {"table": table(), "draws": Draws(*(values[rows] for values in some)), "receiving": OFFICE}
        return *departure.as_planned(**case, wait=HOUR), departure.last_hard_departures(**case)

    together = run(slice(None))
    for n in range(50):
        for both, one in zip(together, run(slice(n, n + 1)), strict=True):
            assert both[n] == one[0]


GOOD = {"table": table(), "draws": draws(5), "receiving": OFFICE, "wait": HOUR}


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"wait": -1e6}, "wait"),
        ({"table": table()._replace(wait=np.array([2.0, 1.0, 3.0, 4.0]))}, "wait nodes must rise"),
        ({"table": table()._replace(hold=np.full((4, 3, 3), np.inf))}, "hold must be finite"),
        ({"table": table()._replace(hold=np.ones((1, 1, 1)))}, "does not fit its nodes"),
        ({"receiving": OFFICE._replace(opens=OFFICE.opens[::-1].copy())}, "receiving hours"),
    ],
)
def test_what_makes_no_sense_is_refused_by_name(change, words):
    with pytest.raises(ValueError, match=words):
        departure.as_planned(**(GOOD | change))


@pytest.mark.parametrize("confidence", [0.0, 1.0, np.nan])
def test_a_confidence_that_is_none_is_refused(confidence):
    with pytest.raises(ValueError, match="confidence"):
        departure.safe_wait(last=np.ones(3), confidence=confidence)
    with pytest.raises(ValueError, match="probability"):
        departure.standard_normal_quantile(confidence)


def test_no_draws_are_refused():
    with pytest.raises(ValueError, match="last holds no draws"):
        departure.safe_wait(last=[], confidence=0.9)
    with pytest.raises(ValueError, match="last holds no draws"):
        departure.chance_hard(last=[], wait=1.0)
