"""What logged trips say of the next one: a normal model with unknown mean and spread.

It is kept on the logarithm of how long a trip took above its floor, against what the route's figures expect.
"""

from typing import NamedTuple

import numpy as np
from scipy.special import stdtrit

from coop.engines.lognormal import require


class NormalInverseGamma(NamedTuple):
    """Belief about mean and variance of log ratios; `weight` is worth so many trips, `trips` were logged."""

    location: float
    weight: float
    shape: float
    rate: float
    trips: int = 0


class StudentT(NamedTuple):
    """Log ratio of the next trip, and on how many logged trips that rests."""

    location: float
    scale: float
    degrees_of_freedom: float
    trips: int = 0


def normal_inverse_gamma_update(prior, observations):
    """Belief after some more trips have been logged.

    prior          NormalInverseGamma   –   weight, shape and rate > 0
    observations   (n,)                 –   log ratios of the trips, n ≥ 0

    Returns NormalInverseGamma, its trips n more than those of the prior.
    Raises ValueError for an observation that is not finite, or weight, shape or rate that are not positive.
    Source: Hoff 2009, A First Course in Bayesian Statistical Methods, ch. 5, with shape ν/2 and rate νσ²/2.
    """
    _check(prior)
    seen = np.atleast_1d(np.asarray(observations, float))
    require("observations", seen, np.isfinite(seen), "finite")
    if not seen.size:
        return prior
    mean, weight = seen.mean(), prior.weight + seen.size
    surprise = prior.weight * seen.size * (mean - prior.location) ** 2 / weight
    return NormalInverseGamma(
        location=float((prior.weight * prior.location + seen.size * mean) / weight),
        weight=weight,
        shape=prior.shape + seen.size / 2,
        rate=float(prior.rate + (np.sum((seen - mean) ** 2) + surprise) / 2),
        trips=prior.trips + seen.size,
    )


def predictive(posterior):
    """What the belief says of the log ratio of the next trip.

    posterior   NormalInverseGamma   –   weight, shape and rate > 0

    Returns StudentT: location, scale and degrees of freedom 2 × shape; trips as in the posterior.
    Raises ValueError for weight, shape or rate that are not positive.
    Source: Gelman et al. 2013, Bayesian Data Analysis, §3.3, posterior predictive (from memory).
    """
    _check(posterior)
    variance = posterior.rate / posterior.shape * (1 + 1 / posterior.weight)
    return StudentT(posterior.location, float(np.sqrt(variance)), 2 * posterior.shape, posterior.trips)


def predictive_quantile(probability, *, spread):
    """Log ratio that the next trip stays below with a given probability.

    probability   (n,)       –   0 < probability < 1
    spread        StudentT   –   scale and degrees of freedom > 0

    Returns (n,) –.
    Raises ValueError for a probability outside 0 … 1, or a scale or degrees of freedom that are not positive.
    Source: Student's t distribution, any text.
    """
    probability = np.asarray(probability, float)
    require("probability", probability, (probability > 0) & (probability < 1), "between 0 and 1")
    for name in ("scale", "degrees_of_freedom"):
        require(f"spread.{name}", getattr(spread, name), getattr(spread, name) > 0, "positive")
    return spread.location + spread.scale * stdtrit(spread.degrees_of_freedom, probability)


def figures_prior(log_ratios, *, worth):
    """Belief before any trip is logged: the route's figures count as so many trips.

    log_ratios   (n,)    –   of journeys drawn from the figures alone, n ≥ 2, not all equal
    worth        float   –   trips that the figures are worth, > 0

    Returns NormalInverseGamma that expects the mean and the variance of the log ratios; its trips are 0.
    Raises ValueError for log ratios that are not finite, too few or equal, or a worth that is not positive.
    Source: Hoff 2009, ch. 5: κ0 and ν0 as numbers of earlier observations.
    """
    drawn = np.asarray(log_ratios, float)
    require("log_ratios", drawn, np.isfinite(drawn), "finite")
    require("worth", worth, worth > 0 and np.isfinite(worth), "positive")
    if drawn.size < 2 or drawn.var() == 0:
        raise ValueError(f"log_ratios must be two or more and differ, not {drawn}")
    return NormalInverseGamma(float(drawn.mean()), worth, worth / 2, worth / 2 * float(drawn.var()))


def _check(belief):
    require("location", belief.location, np.isfinite(belief.location), "finite")
    for name in ("weight", "shape", "rate"):
        value = getattr(belief, name)
        require(name, value, value > 0 and np.isfinite(value), "positive")
