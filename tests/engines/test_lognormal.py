import numpy as np
import pytest
from scipy import stats

from coop.engines.lognormal import checked_uniforms, lognormal_parameters, lognormal_quantile, require

HOUR = 3600.0
BAD = [-1.0, np.nan, np.inf]


@pytest.mark.parametrize(("probability", "hours"), [(0.50, 23.534), (0.80, 27.802), (0.95, 32.596)])
def test_a_mean_of_24_h_with_a_variation_of_0_2_has_the_quantiles_of_the_reference(probability, hours):
    # Reference values of the project, §6, worked out there from σ² = ln(1 + cv²); three decimals of an hour.
    found = lognormal_quantile(probability, mean=24 * HOUR, coefficient_of_variation=0.2) / HOUR
    assert found == pytest.approx(hours, abs=5e-4)


@pytest.mark.parametrize("variation", [0.05, 0.5, 2.0])
def test_quantiles_are_those_of_scipy(variation):
    mu, sigma = lognormal_parameters(mean=3.0, coefficient_of_variation=variation)
    p = np.linspace(0.001, 0.999, 41)
    found = lognormal_quantile(p, mean=3.0, coefficient_of_variation=variation)
    assert found == pytest.approx(stats.lognorm.ppf(p, s=sigma, scale=np.exp(mu)), rel=1e-12)


@pytest.mark.parametrize("variation", [0.1, 0.7, 1.8])
def test_the_parameters_give_back_mean_and_variation(variation):
    mu, sigma = lognormal_parameters(mean=7200.0, coefficient_of_variation=variation)
    mean, variance = stats.lognorm.stats(s=sigma, scale=np.exp(mu), moments="mv")
    assert float(mean) == pytest.approx(7200.0, rel=1e-12)
    assert float(np.sqrt(variance) / mean) == pytest.approx(variation, rel=1e-12)


def test_an_array_equals_its_scalars():
    mean, variation = np.array([0.0, 60.0, 3600.0]), np.array([0.5, 0.0, 1.2])
    at_once = lognormal_quantile(0.3, mean=mean, coefficient_of_variation=variation)
    one_by_one = [
        float(lognormal_quantile(0.3, mean=m, coefficient_of_variation=v))
        for m, v in zip(mean, variation, strict=True)
    ]
    assert at_once.tolist() == one_by_one


def test_without_variation_the_time_is_its_mean():
    found = lognormal_quantile(np.array([0.001, 0.5, 0.999]), mean=90.0, coefficient_of_variation=0.0)
    assert found == pytest.approx([90.0] * 3, rel=1e-14)


def test_a_mean_of_zero_is_always_zero():
    found = lognormal_quantile(np.array([0.001, 0.999]), mean=0.0, coefficient_of_variation=3.0)
    assert found.tolist() == [0.0, 0.0]


@pytest.mark.parametrize("probability", [0.0, 1.0, -0.1, 1.1, np.nan])
def test_a_probability_that_has_no_quantile_is_refused(probability):
    with pytest.raises(ValueError, match=f"probability must be between 0 and 1, not {probability}"):
        lognormal_quantile(probability, mean=1.0, coefficient_of_variation=0.1)


@pytest.mark.parametrize("value", BAD)
@pytest.mark.parametrize("name", ["mean", "coefficient_of_variation"])
def test_a_mean_or_variation_out_of_range_is_refused_by_name_and_value(name, value):
    figures = {"mean": 60.0, "coefficient_of_variation": 0.2, name: value}
    with pytest.raises(ValueError, match=f"{name} must be .*, not {value}"):
        lognormal_quantile(0.5, **figures)
    with pytest.raises(ValueError, match=f"{name} must be .*, not {value}"):
        lognormal_parameters(**figures)


def test_the_logarithm_of_a_mean_of_zero_is_refused():
    with pytest.raises(ValueError, match=r"mean must be positive, not 0\.0"):
        lognormal_parameters(mean=0.0, coefficient_of_variation=0.2)


def test_the_first_wrong_value_of_many_is_named():
    value = np.array([1.0, -2.0, -3.0])
    with pytest.raises(ValueError, match=r"speed must be positive, not -2\.0"):
        require("speed", value, value > 0, "positive")


@pytest.mark.parametrize("shape", [(4, 1), (4, 3), (8,)])
def test_uniforms_of_another_shape_are_refused(shape):
    with pytest.raises(ValueError, match="uniforms must have 2 columns, not shape"):
        checked_uniforms(np.full(shape, 0.5), 2)


@pytest.mark.parametrize("value", [0.0, 1.0, -0.5, np.nan])
def test_uniforms_at_or_beyond_the_ends_are_refused(value):
    with pytest.raises(ValueError, match=f"uniforms must be between 0 and 1, not {value}"):
        checked_uniforms(np.array([[0.5, value]]), 2)
