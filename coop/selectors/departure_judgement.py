"""What one departure means for one carton: how likely it arrives hard, until what hour it may still leave."""

from dataclasses import dataclass

import numpy as np

from coop.engines import departure
from coop.engines.departure import Receiving
from coop.selectors.engine_inputs import HOUR
from coop.selectors.thermal_runs import DEVIATIONS, READING_STEP

WINDOW = (0.1, 0.5, 0.9)
CHANCE_STEP = 1800.0
KEPT = 0.95
"""Of the time beyond the planned wait: the rest is kept back for the hold between the waits that were run."""


@dataclass(frozen=True)
class Judgement:
    """Times s since closing; shares; `reason` is None for a safe departure.

    `hold_is_at_least` where a run behind the two holds ended before the limit was passed.
    """

    chance_hard: float
    expected_softened_share: float
    window: tuple[float, float, float]
    margin: float
    latest_departure: float
    closed_before_departure: float
    hold_best: float
    hold_cautious: float
    hold_is_at_least: bool
    reason: str | None
    chances: tuple[tuple[float, float], ...]


def judge(*, runs, travel, draws, receiving, wait, lead, confidence):
    """Judgement of a planned departure `wait` s after closing.

    runs are HoldRuns, travel the travel times s that they followed; receiving counts from closing.
    """
    found, spare = as_planned(runs=runs, draws=draws, receiving=receiving, wait=wait)
    last, chance = last_hard(runs, draws, receiving, wait, spare)
    safe = chance >= confidence
    closings = departure.earliest_closings(
        table=runs.by_closing, draws=draws, receiving=shifted(receiving, -wait), first=min(lead, wait)
    )
    closed_before = departure.safe_wait(last=closings, confidence=confidence)
    margin = departure.safe_wait(last=spare, confidence=confidence)
    best, cautious = planned_holds(runs.planned, confidence)
    latest = departure.safe_wait(last=last, confidence=confidence)
    return Judgement(
        chance_hard=chance,
        expected_softened_share=softened_share(runs, travel, draws, found),
        window=tuple(np.quantile(found.handed_over, WINDOW, method="higher").tolist()),
        margin=margin if safe else min(margin, 0.0),
        latest_departure=kept_back(latest, wait),
        closed_before_departure=kept_back(closed_before, wait),
        hold_best=best,
        hold_cautious=cautious,
        hold_is_at_least=best >= runs.planned_end - READING_STEP,
        reason=None
        if safe
        else reason(found, draws, receiving, wait, confidence, closed_before, lead, latest),
        chances=chances_by_hour(last, wait, latest),
    )


def as_planned(*, runs, draws, receiving, wait):
    """Each draw as planned, and its spare time s at hand-over."""
    found = departure.as_planned(table=runs.planned, draws=draws, receiving=receiving, wait=wait)
    return found, np.minimum(found.hold, receiving.deadline) - found.handed_over


def last_hard(runs, draws, receiving, wait, spare):
    """The last hard wait s of each draw, and the share of the draws that is hard as planned."""
    last = departure.last_hard_departures(table=runs.by_wait, draws=draws, receiving=receiving)
    # A draw counts as hard only if it would also have been hard had it left earlier: later is never better.
    return last, float(((spare >= 0) & (last >= wait + draws.delay)).mean())


def softened_share(runs, travel, draws, found):
    """Share of the fish that is expected to have softened at hand-over, over all draws."""
    shares = departure.expected_softened_share(
        travel_nodes=travel,
        deviation_nodes=DEVIATIONS,
        softened=runs.softened,
        reading_step=READING_STEP,
        draws=draws,
        handed_over=found.handed_over,
    )
    return float(shares.mean())


def kept_back(longest, wait):
    """A longest wait s, less a part of what lies beyond the planned one, where few waits were run."""
    return longest if longest <= wait else wait + KEPT * (longest - wait)


def shifted(receiving, seconds):
    return Receiving(receiving.opens + seconds, receiving.closes + seconds, receiving.deadline + seconds)


def planned_holds(table, confidence):
    """Hold s as planned: best estimate, and that of the worst trip in as poor a wall as may be."""
    row = table.hold[0]
    poor = departure.standard_normal_quantile(confidence)
    best = float(np.interp(0.0, table.deviation, row[len(row) // 2]))
    cautious = min(float(np.interp(poor, table.deviation, speed)) for speed in row)
    return best, min(best, cautious)


def reason(found, draws, receiving, wait, confidence, closed_before, lead, latest):
    """The first thing that alone would have to change to make the departure safe."""
    if found.hold.max() <= 1.0:
        return "start_too_warm"
    if latest >= wait:
        return "may_leave_late"
    if wait > lead and lead <= closed_before < wait:
        return "closed_too_early"
    if (
        (found.hold >= found.handed_over).mean()
        >= confidence
        > (found.handed_over <= receiving.deadline).mean()
    ):
        return "arrives_after_deadline"
    arrival = wait + draws.delay + draws.travel
    if (np.minimum(found.hold, receiving.deadline) >= arrival).mean() >= confidence:
        return "buyer_closed"
    return "hold_too_short"


def chances_by_hour(last, wait, latest):
    """Chance of arriving hard by the wait at which the vehicle really leaves, half hour by half hour."""
    end = max(latest, wait) + 6 * HOUR
    waits = np.arange(np.floor(wait / CHANCE_STEP), np.ceil(end / CHANCE_STEP) + 1) * CHANCE_STEP
    return tuple(zip(waits.tolist(), departure.chance_hard(last=last, wait=waits).tolist(), strict=True))
