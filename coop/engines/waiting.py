"""How long after its planned hour a vehicle really leaves."""

from typing import NamedTuple

import numpy as np
from scipy.special import gammaincc, gammaincinv

from coop.engines.lognormal import checked_uniforms, lognormal_quantile, require

DELAY_DIMENSIONS = 2
"""Columns of uniforms that draw_delay reads: riders, delay."""
MOST_SEATS = 1000


class Filling(NamedTuple):
    """A vehicle that leaves when full: whole seats still to fill, riders who come in a second (1/s)."""

    seats_left: int
    riders: float


def erlang_wait_mean(*, seats_left, riders):
    """Mean wait until a vehicle that leaves when full is full.

    seats_left   (n,)   –     whole seats still to fill, 0 … 1000
    riders       (n,)   1/s   who come to the stand, > 0

    Returns (n,) s.
    Raises ValueError for seats that are not whole or out of range, or riders that are not positive.
    Source: sum of that many exponential gaps of a Poisson stream: Erlang distribution, any text.
    """
    seats_left, riders = _filling(seats_left, riders)
    return seats_left / riders


def erlang_wait_quantile(probability, *, seats_left, riders):
    """Wait until full that is not exceeded with a given probability.

    probability   (n,)   –     0 < probability < 1
    seats_left    (n,)   –     whole seats still to fill, 0 … 1000; 0 is a vehicle that is full already
    riders        (n,)   1/s   who come to the stand, > 0

    Returns (n,) s; 0 where no seat is left.
    Raises ValueError as erlang_wait_mean, and for a probability outside 0 … 1.
    Source: Erlang distribution as a gamma distribution of whole shape, any text.
    """
    seats_left, riders = _filling(seats_left, riders)
    probability = np.asarray(probability, float)
    require("probability", probability, (probability > 0) & (probability < 1), "between 0 and 1")
    shape = np.maximum(seats_left, 1.0)
    return np.where(seats_left == 0, 0.0, gammaincinv(shape, probability) / riders)


def erlang_wait_survival(wait, *, seats_left, riders):
    """Chance that a vehicle which leaves when full is still standing after a wait.

    wait         (n,)   s     ≥ 0
    seats_left   (n,)   –     whole seats still to fill at the start of the wait, 0 … 1000
    riders       (n,)   1/s   who come to the stand, > 0

    Returns (n,) –; 0 where no seat was left.
    Raises ValueError as erlang_wait_mean, and for a wait that is negative or not finite.
    Source: Erlang distribution as a gamma distribution of whole shape, any text.
    """
    seats_left, riders = _filling(seats_left, riders)
    wait = np.asarray(wait, float)
    require("wait", wait, (wait >= 0) & np.isfinite(wait), "0 or more")
    shape = np.maximum(seats_left, 1.0)
    return np.where(seats_left == 0, 0.0, gammaincc(shape, riders * wait))


def draw_delay(*, delay, filling, uniforms):
    """How long after the planned hour a vehicle leaves, for each possible trip.

    delay      Duration   s   lognormal, after the planned hour or, if it leaves when full, after it is full
    filling    Filling    –   seats and riders of one that leaves when full, from the planned hour on;
                              None for one that leaves by the clock
    uniforms   (n, 2)     –   between 0 and 1; columns for riders and delay

    Returns (n,) s, ≥ 0.
    Raises ValueError for uniforms of another shape, or values that lognormal and Erlang times refuse.
    Source: No source: a lognormal delay behind an Erlang wait, both as in engines of the same name.
    """
    uniforms = checked_uniforms(uniforms, DELAY_DIMENSIONS)
    late = lognormal_quantile(uniforms[:, 1], **delay._asdict())
    if filling is None:
        return late
    return late + erlang_wait_quantile(uniforms[:, 0], **filling._asdict())


def _filling(seats_left, riders):
    seats_left, riders = np.asarray(seats_left, float), np.asarray(riders, float)
    is_seats = (seats_left >= 0) & (seats_left <= MOST_SEATS) & (seats_left == np.floor(seats_left))
    require("seats_left", seats_left, is_seats, f"whole and 0 to {MOST_SEATS}")
    require("riders", riders, (riders > 0) & np.isfinite(riders), "positive")
    return seats_left, riders
