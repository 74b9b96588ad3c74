"""What one departure means for one carton: how likely it arrives hard, until what hour it may still leave."""

from dataclasses import dataclass

import numpy as np

from coop.engines import departure
from coop.engines.departure import Receiving
from coop.selectors.engine_inputs import HOUR

WINDOW = (0.1, 0.5, 0.9)
CHANCE_STEP = 1800.0


@dataclass(frozen=True)
class Judgement:
    """Times s since closing; shares; `reason` is None for a safe departure."""

    chance_hard: float
    expected_softened_share: float
    window: tuple[float, float, float]
    margin: float
    latest_departure: float
    closed_before_departure: float
    hold_best: float
    hold_cautious: float
    reason: str | None
    chances: tuple[tuple[float, float], ...]


def judge(*, planned, by_wait, by_closing, softened, reading_step, draws, receiving, wait, lead, confidence):
    """Judgement of a planned departure `wait` s after closing.

    The tables and the softened share are those of hold_tables; receiving counts from closing.
    """
    found = departure.outcomes(table=planned, draws=draws, receiving=receiving, wait=wait)
    last = departure.outcomes(table=by_wait, draws=draws, receiving=receiving, wait=wait).last_hard
    # A draw counts as hard only if it would also have been hard had it left earlier: later is never better.
    spare = np.minimum(found.hold, receiving.deadline) - found.handed_over
    chance = float(((spare >= 0) & (last >= wait + draws.delay)).mean())
    safe = chance >= confidence
    shares = departure.expected_softened_share(
        travel_nodes=planned.travel,
        deviation_nodes=planned.deviation,
        softened=softened,
        reading_step=reading_step,
        draws=draws,
        handed_over=found.handed_over,
    )
    closings = departure.earliest_closings(
        table=by_closing, draws=draws, receiving=shifted(receiving, -wait), first=min(lead, wait)
    )
    closed_before = departure.safe_wait(last=closings, confidence=confidence)
    margin = departure.safe_wait(last=spare, confidence=confidence)
    latest = departure.safe_wait(last=last, confidence=confidence)
    best, cautious = planned_holds(planned, confidence)
    return Judgement(
        chance_hard=chance,
        expected_softened_share=float(shares.mean()),
        window=tuple(np.quantile(found.handed_over, WINDOW, method="higher").tolist()),
        margin=margin if safe else min(margin, 0.0),
        latest_departure=latest,
        closed_before_departure=closed_before,
        hold_best=best,
        hold_cautious=cautious,
        reason=None if safe else reason(found, draws, receiving, wait, confidence, closed_before, lead),
        chances=chances_by_hour(last, wait, latest),
    )


def shifted(receiving, seconds):
    return Receiving(receiving.opens + seconds, receiving.closes + seconds, receiving.deadline + seconds)


def planned_holds(table, confidence):
    """Hold s as planned: best estimate, and that of the worst trip in as poor a wall as may be."""
    row = table.hold[0]
    middle = row[len(row) // 2]
    log = np.log(np.maximum(row, 1.0))
    best = float(np.exp(np.interp(0.0, table.deviation, np.log(np.maximum(middle, 1.0)))))
    poor = departure.standard_normal_quantile(confidence)
    cautious = min(float(np.exp(np.interp(poor, table.deviation, speed))) for speed in log)
    return best, min(best, cautious)


def reason(found, draws, receiving, wait, confidence, closed_before, lead):
    """The first thing that alone would have to change to make the departure safe."""
    if found.hold.max() <= 1.0:
        return "start_too_warm"
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
