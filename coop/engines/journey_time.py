"""When a carton arrives: possible journeys from departure to the buyer's door, and when the buyer takes it.

The times of a trip are drawn together and added draw by draw, so that quantiles are those of the sum.
"""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from scipy.special import ndtri
from scipy.stats import qmc

from coop.engines.lognormal import checked_uniforms, lognormal_parameters, lognormal_quantile, require
from coop.engines.trip_log import predictive_quantile

COUNT = 2**15
"""Draws: the smallest power of two, which Sobol points need, above the 20 000 that are asked for."""
MOST_CORRELATION = 0.999
MOST_LOG_RATIO = 300.0


class Leg(NamedTuple):
    """A stretch of road and the stop at its end: times s, variation that of the time above the floor."""

    mean: float
    floor: float
    coefficient_of_variation: float
    stop_mean: float
    stop_coefficient_of_variation: float


class Breakdown(NamedTuple):
    """Chance of one on a trip, and the lognormal time s that it costs."""

    chance: float
    mean: float
    coefficient_of_variation: float


@dataclass(frozen=True, kw_only=True)
class Journey:
    """Possible journeys, s: (n,) but leg_times, (n, legs), which hold the stop at the end of each leg.

    travel is the sum of the rest: from the hour of leaving until at the buyer's door.
    """

    travel: np.ndarray
    leg_times: np.ndarray
    breakdown: np.ndarray
    last_stretch: np.ndarray
    trips: int = 0

    @property
    def road(self):
        """Time s until the vehicle reaches the end of the route, as a trip log knows it."""
        return self.leg_times.sum(axis=1) + self.breakdown


def journey_dimensions(legs):
    """Columns of uniforms that draw_journey reads.

    legs   (m,)   –   legs of the route

    Returns int: one for what the legs share, two a leg, and one each for breakdown, last stretch and ties.
    Raises ValueError where there is no leg.
    Source: No source: count.
    """
    if not len(legs):
        raise ValueError(f"legs must be one or more, not {legs}")
    return 2 * len(legs) + 4


def draw_uniforms(dimensions, *, seed, count=COUNT):
    """Quasi-random numbers that fill the unit cube more evenly than random ones.

    dimensions   int   –   columns, 1 … 1000
    seed         int   –   ≥ 0; the same seed gives the same numbers
    count        int   –   rows, a power of two, 2 … 2²⁰

    Returns (count, dimensions) –, between 0 and 1, neither of them reached.
    Raises ValueError for dimensions or count out of range, or a count that is no power of two.
    Source: Sobol 1967 with Owen's scrambling, as `scipy.stats.qmc` gives it.
    """
    require("dimensions", dimensions, 1 <= dimensions <= 1000, "1 to 1000")
    require("seed", seed, seed >= 0, "0 or more")
    require("count", count, 2 <= count <= 2**20 and count & (count - 1) == 0, "a power of two up to 2^20")
    sobol = qmc.Sobol(dimensions, scramble=True, bits=30, rng=np.random.default_rng(seed))
    # A point is the lower corner of a cell of side 2^-30; its middle keeps 0 out, whose quantile is −inf.
    return sobol.random(count) + 2.0**-31


def draw_journey(*, legs, correlation, breakdown, last_stretch, spread, uniforms):
    """Possible journeys from the hour of leaving until at the buyer's door.

    legs           (m,)        Leg   floor < mean; stops, breakdown and last stretch do not depend on the legs
    correlation    float       –     between the logarithms of any two leg times above their floors, 0 … 0.999
    breakdown      Breakdown   –     chance 0 … 1
    last_stretch   Duration    s     from the end of the route to the buyer's door
    spread         StudentT    –     log ratio of the next trip by its log; None: the figures of the legs
    uniforms       (n, journey_dimensions)   –   between 0 and 1

    Returns Journey; no leg is faster than its floor, and with a spread quantiles have a meaning, means none.
    Raises ValueError that names the leg, the argument and the value that is out of range.
    Source: No source: lognormal times with one common factor; the slowest trip of the figures becomes the
        slowest by the log, and so on in order. Breakdowns stay as the figures have them: a few trips without
        one say little of what is rare, and would make the slowest trips look quicker than they are.
    """
    figures, uniforms = _checked(legs), checked_uniforms(uniforms, journey_dimensions(legs))
    require("correlation", correlation, 0 <= correlation <= MOST_CORRELATION, f"0 to {MOST_CORRELATION}")
    above = _above_floor(figures, correlation, uniforms[:, : 2 * len(legs) + 1])
    broken = _breakdown_times(breakdown, uniforms[:, -3])
    if spread is not None:
        factor = _stretch(above.sum(axis=1), _expected_above(figures), spread, uniforms[:, -1])
        above = above * factor[:, None]
    last = lognormal_quantile(uniforms[:, -2], **last_stretch._asdict())
    leg_times = figures[:, 1] + above
    return Journey(
        travel=leg_times.sum(axis=1) + broken + last,
        leg_times=leg_times,
        breakdown=broken,
        last_stretch=last,
        trips=0 if spread is None else spread.trips,
    )


def log_ratio(road, *, legs):
    """Logarithm of a trip's time above the floor against what the figures expect of one without a breakdown.

    road   (n,)   s     from leaving until the end of the route, longer than all floors together
    legs   (m,)   Leg

    Returns (n,) –; 0 took as long as the figures expect on average; a trip that broke down counts as slow.
    Raises ValueError for a trip that is not longer than the floors: then a floor is set too high.
    Source: No source: definition.
    """
    figures, road = _checked(legs), np.asarray(road, float)
    floor = figures[:, 1].sum()
    require("road", road, (road > floor) & np.isfinite(road), f"longer than the floor of {floor:g} s")
    return np.log((road - floor) / _expected_above(figures))


def receive(arrival, *, opens, closes):
    """When the buyer takes the fish that arrives at a given instant.

    arrival   (n,)   s   at the buyer's door
    opens     (m,)   s   beginnings of the receiving hours, in order, from the same instant as arrival
    closes    (m,)   s   their ends, each not before its beginning nor after the next beginning

    Returns (n,) s: arrival itself within receiving hours, both ends included, else the next opening; inf
        after the last.
    Raises ValueError for an arrival that is NaN, or receiving hours that are not in order.
    Source: No source: definition.
    """
    arrival = np.asarray(arrival, float)
    opens, closes = np.atleast_1d(np.asarray(opens, float)), np.atleast_1d(np.asarray(closes, float))
    require("arrival", arrival, ~np.isnan(arrival), "a number")
    if opens.shape != closes.shape or opens.ndim != 1:
        raise ValueError(f"opens and closes must be as many, not {opens.shape} and {closes.shape}")
    require("closes", closes, closes >= opens, "at or after its opening")
    require("opens", opens[1:], opens[1:] >= closes[:-1], "at or after the closing before it")
    following = np.searchsorted(closes, arrival, side="left")
    return np.maximum(arrival, np.append(opens, np.inf)[following])


def _checked(legs):
    """Figures of the legs, (m, 5), once each is known to be in range."""
    journey_dimensions(legs)
    figures = np.array([tuple(leg) for leg in legs], float)
    for column, name in enumerate(Leg._fields):
        for position, value in enumerate(figures[:, column]):
            require(f"legs[{position}].{name}", value, np.isfinite(value) and value >= 0, "0 or more")
    for position, (mean, floor) in enumerate(figures[:, :2]):
        require(f"legs[{position}].floor", floor, floor < mean, f"below the mean of {mean:g} s")
    return figures


def _above_floor(figures, correlation, uniforms):
    """Times of legs above their floors, with their stops, (n, m)."""
    mean, floor, variation, stop_mean, stop_variation = figures.T
    normal = ndtri(uniforms[:, : len(figures) + 1])
    together = np.sqrt(correlation) * normal[:, :1] + np.sqrt(1 - correlation) * normal[:, 1:]
    mu, sigma = lognormal_parameters(mean=mean - floor, coefficient_of_variation=variation)
    stops = lognormal_quantile(
        uniforms[:, len(figures) + 1 :], mean=stop_mean, coefficient_of_variation=stop_variation
    )
    return np.exp(mu + sigma * together) + stops


def _breakdown_times(breakdown, uniform):
    """Time s that a breakdown costs; one uniform tells whether there is one and how long it is."""
    chance = breakdown.chance
    require("breakdown.chance", chance, 0 <= chance <= 1, "0 to 1")
    figures = {
        "mean": breakdown.mean,
        "coefficient_of_variation": breakdown.coefficient_of_variation,
    }
    lognormal_quantile(0.5, **figures)
    times, happens = np.zeros(len(uniform)), uniform < chance
    times[happens] = lognormal_quantile(uniform[happens] / (chance or 1.0), **figures)
    return times


def _expected_above(figures):
    mean, floor, _, stop_mean, _ = figures.sum(axis=0)
    return mean - floor + stop_mean


def _stretch(above, expected, spread, tie):
    """Factor of each trip that brings its rank among all to the time that the log gives that rank."""
    order = np.lexsort((tie, above))
    rank = np.empty(len(above))
    rank[order] = np.arange(len(above))
    ratio = predictive_quantile((rank + 0.5) / len(above), spread=spread)
    reach = "so narrow that the slowest trip is no more than e^300 times what is expected"
    require("spread.scale", spread.scale, ratio.max() <= MOST_LOG_RATIO, reach)
    return expected * np.exp(ratio) / above
