"""Lognormal times: never negative, with a long tail on the slow side."""

from typing import NamedTuple

import numpy as np
from scipy.special import ndtri


class Duration(NamedTuple):
    """A lognormal time: mean s ≥ 0 and standard deviation over mean ≥ 0."""

    mean: float
    coefficient_of_variation: float


class Parameters(NamedTuple):
    """Mean and standard deviation of the logarithm of the time in s."""

    mu: np.ndarray
    sigma: np.ndarray


def lognormal_parameters(*, mean, coefficient_of_variation):
    """Mean and standard deviation of the logarithm of a lognormal time.

    mean                       (n,)   s   > 0
    coefficient_of_variation   (n,)   –   standard deviation over mean, ≥ 0

    Returns Parameters of (n,) each, the logarithm being that of seconds.
    Raises ValueError for a mean that is not positive or a coefficient that is negative or not finite.
    Source: Johnson, Kotz & Balakrishnan 1994, Continuous Univariate Distributions 1, ch. 14 (from memory):
        σ² = ln(1 + cv²), μ = ln m − σ²/2.
    """
    mean, variation = np.asarray(mean, float), np.asarray(coefficient_of_variation, float)
    require("mean", mean, (mean > 0) & np.isfinite(mean), "positive")
    require("coefficient_of_variation", variation, (variation >= 0) & np.isfinite(variation), "0 or more")
    variance = np.log1p(variation**2)
    return Parameters(np.log(mean) - variance / 2, np.sqrt(variance))


def lognormal_quantile(probability, *, mean, coefficient_of_variation):
    """Time that a lognormal time stays below with a given probability.

    probability                (n,)   –   0 < probability < 1
    mean                       (n,)   s   ≥ 0; a mean of 0 is a time that is always 0
    coefficient_of_variation   (n,)   –   ≥ 0; 0 is a time that is always its mean

    Returns (n,) s.
    Raises ValueError for a probability outside 0 … 1, or a mean or coefficient that is negative or infinite.
    Source: definition of the lognormal distribution; parameters as in lognormal_parameters.
    """
    probability, mean = np.asarray(probability, float), np.asarray(mean, float)
    require("probability", probability, (probability > 0) & (probability < 1), "between 0 and 1")
    require("mean", mean, (mean >= 0) & np.isfinite(mean), "0 or more")
    never = mean == 0
    mu, sigma = lognormal_parameters(
        mean=np.where(never, 1.0, mean), coefficient_of_variation=coefficient_of_variation
    )
    return np.where(never, 0.0, np.exp(mu + sigma * ndtri(probability)))


def checked_uniforms(uniforms, columns):
    """Uniforms of which each column draws one time.

    uniforms   (n, columns)   –   between 0 and 1, neither of them reached
    columns    int            –   that are read

    Returns (n, columns) –.
    Raises ValueError for another shape, or a value that is not between 0 and 1.
    Source: No source: house rule.
    """
    uniforms = np.asarray(uniforms, float)
    if uniforms.ndim != 2 or uniforms.shape[1] != columns:
        raise ValueError(f"uniforms must have {columns} columns, not shape {uniforms.shape}")
    require("uniforms", uniforms, (uniforms > 0) & (uniforms < 1), "between 0 and 1")
    return uniforms


def require(name, value, is_right, what):
    """Refuse an argument, naming it and the first of its values that is wrong.

    name       str    –   of the argument
    value      (n,)   –   what was given
    is_right   (n,)   –   bool, where it is as it should be
    what       str    –   what it should be, "positive"

    Returns None where everything is right.
    Raises ValueError that names the argument, the first wrong value and what would be right.
    Source: No source: house rule.
    """
    if not np.all(is_right):
        value, is_right = np.broadcast_arrays(value, is_right)
        raise ValueError(f"{name} must be {what}, not {value[~is_right].flat[0]}")
