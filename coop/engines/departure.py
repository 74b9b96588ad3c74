"""Until what hour a carton may still leave, from when it may be closed, and how likely it arrives hard.

A carton is hard if it is handed over before its hold runs out. The hold is known at nodes of wait, travel
and conductivity of the insulation; a draw is one possible journey with one possible insulation.
"""

from typing import NamedTuple

import numpy as np
from scipy.special import ndtri

from coop.engines import departure_kernel as kernel
from coop.engines.journey_time import receive


class HoldTable(NamedTuple):
    """Hold s since closing at nodes: wait (w,) s, travel (r,) s, deviation (k,) of ln k in sigmas."""

    wait: np.ndarray
    travel: np.ndarray
    deviation: np.ndarray
    hold: np.ndarray


class Draws(NamedTuple):
    """Possible journeys, all (n,): delay of departure s, travel s, deviation of ln conductivity in sigmas."""

    delay: np.ndarray
    travel: np.ndarray
    deviation: np.ndarray


class Receiving(NamedTuple):
    """When the buyer takes fish, s: intervals opens (m,) … closes (m,), rising; the last useful instant."""

    opens: np.ndarray
    closes: np.ndarray
    deadline: float


class AsPlanned(NamedTuple):
    """Of each draw, s since closing: hand-over and hold."""

    handed_over: np.ndarray
    hold: np.ndarray


def as_planned(*, table, draws, receiving, wait):
    """What becomes of each possible carton as planned.

    table       HoldTable   –   closing fixed, wait until departure varying
    draws       Draws       –   possible journeys
    receiving   Receiving   s   since closing
    wait        float       s   planned departure less closing, ≥ 0; each draw adds its own delay

    Returns AsPlanned, (n,) each; hand-over is inf where the buyer never opens again.
    Raises ValueError for a table or receiving hours that are out of order, or a negative wait.
    Source: No source: definition.
    """
    _check(table, receiving, wait)
    leaves, hold = wait + draws.delay, np.empty(len(draws.travel))
    kernel.holds_after(leaves, draws.travel, draws.deviation, *table, hold)
    return AsPlanned(receive(leaves + draws.travel, opens=receiving.opens, closes=receiving.closes), hold)


def last_hard_departures(*, table, draws, receiving, first=0.0):
    """How long each possible carton may wait after closing and still arrive hard.

    table       HoldTable   –   closing fixed, wait until departure varying
    draws       Draws       –   possible journeys; a departure is when the vehicle really leaves: no delay
    receiving   Receiving   s   since closing
    first       float       s   shortest wait that counts, ≥ 0

    Returns (n,) s: the longest wait at which every shorter one is hard as well, at most the last of the
    table; −inf where even the first is soft. Waiting longer is therefore never likelier to be hard.
    Raises ValueError as as_planned.
    Source: No source: definition of the latest safe departure in this project.
    """
    return _last_hard(table, draws, receiving, first, draws.travel)


def earliest_closings(*, table, draws, receiving, first=0.0):
    """How long before the planned departure each possible carton may be closed and still arrive hard.

    table       HoldTable   –   departure fixed, wait since closing varying
    draws       Draws       –   possible journeys, delay of departure included
    receiving   Receiving   s   since the planned departure
    first       float       s   shortest wait that counts, ≥ 0

    Returns (n,) s before the planned departure; −inf where even the first is soft or too late.
    Raises ValueError as as_planned.
    Source: No source: definition of the earliest closing in this project.
    """
    onward = receive(draws.delay + draws.travel, opens=receiving.opens, closes=receiving.closes)
    onward = np.where(onward <= receiving.deadline, onward, np.inf)
    # The closing moves, the hand-over does not: whatever the hour, somebody takes the fish.
    always = Receiving(np.zeros(1), np.full(1, np.inf), np.inf)
    return _last_hard(table, draws, always, first, onward)


def chance_hard(*, last, wait):
    """Share of the draws that are still hard when the vehicle leaves after a wait.

    last   (n,)   s   last_hard_departures
    wait   (m,)   s   wait until departure, or (m, n) where each draw has its own

    Returns (m,) –, never rising with the wait.
    Raises ValueError where there are no draws.
    Source: No source: relative frequency.
    """
    last = np.asarray(last, float)
    if not last.size:
        raise ValueError("last holds no draws; at least one is needed")
    wait = np.atleast_1d(np.asarray(wait, float))
    return (last >= wait.reshape(len(wait), -1)).mean(axis=1)


def safe_wait(*, last, confidence):
    """Longest wait after which the share of hard draws is still at least the confidence.

    last         (n,)   s   last_hard_departures or earliest_closings
    confidence   float  –   0 < confidence < 1

    Returns float s; −inf where no wait is safe.
    Raises ValueError for a confidence outside 0 … 1 or no draws.
    Source: No source: order statistic; of n draws the m smallest may fail, m = floor(n (1 − confidence)).
    """
    last = np.asarray(last, float)
    if not 0 < confidence < 1:
        raise ValueError(f"confidence must lie between 0 and 1, not {confidence}")
    if not last.size:
        raise ValueError("last holds no draws; at least one is needed")
    may_fail = int(np.floor(last.size * (1 - confidence) + 1e-9))
    return float(np.partition(last, may_fail)[may_fail])


def standard_normal_quantile(probability):
    """Deviation of ln conductivity, in sigmas, that stays below with a given probability.

    probability   (n,)   –   0 < probability < 1

    Returns (n,) –.
    Raises ValueError for a probability outside 0 … 1.
    Source: inverse of the normal distribution, as `scipy.special.ndtri` gives it.
    """
    if not np.all((np.asarray(probability) > 0) & (np.asarray(probability) < 1)):
        raise ValueError(f"probability must lie between 0 and 1, not {probability}")
    return ndtri(probability)


def expected_softened_share(*, travel_nodes, deviation_nodes, softened, reading_step, draws, handed_over):
    """Share of the fish that has softened at hand-over, for each draw.

    travel_nodes      (r,)        s   travel times of the runs
    deviation_nodes   (k,)        –   deviations of ln conductivity of the runs
    softened          (r, k, m)   –   softened share at instants reading_step apart, from closing
    reading_step      float       s   > 0
    draws             Draws       –   possible journeys
    handed_over       (n,)        s   since closing

    Returns (n,) –, 1 where a run had ended before hand-over.
    Raises ValueError for a reading step that is not positive.
    Source: No source: linear interpolation.
    """
    if not reading_step > 0:
        raise ValueError(f"reading_step must be positive, not {reading_step}")
    full = np.where(np.isnan(softened), 1.0, softened)
    out = np.empty(len(handed_over))
    kernel.softened_at(
        handed_over,
        draws.travel,
        draws.deviation,
        travel_nodes,
        deviation_nodes,
        full,
        float(reading_step),
        out,
    )
    return out


def _last_hard(table, draws, receiving, first, onward):
    _check(table, receiving, first)
    out = np.empty(len(draws.travel))
    kernel.last_hard_waits(float(first), onward, draws.travel, draws.deviation, *table, *receiving, out)
    return out


def _check(table, receiving, wait):
    for name, nodes in (("wait", table.wait), ("travel", table.travel), ("deviation", table.deviation)):
        if not (len(nodes) and np.all(np.diff(nodes) > 0)):
            raise ValueError(f"{name} nodes must rise, not {nodes}")
    if np.shape(table.hold) != (len(table.wait), len(table.travel), len(table.deviation)):
        raise ValueError(f"hold has shape {np.shape(table.hold)}, which does not fit its nodes")
    if not np.all(np.isfinite(table.hold) & (np.asarray(table.hold) >= 0)):
        raise ValueError(
            "hold must be finite and not negative; give the end of the run where no limit was passed"
        )
    if not wait >= 0:
        raise ValueError(f"wait must not be negative, not {wait}")
    opens, closes = np.asarray(receiving.opens), np.asarray(receiving.closes)
    if not (np.all(opens <= closes) and np.all(closes[:-1] <= opens[1:])):
        raise ValueError("receiving hours must follow one another: each opens before it closes")
