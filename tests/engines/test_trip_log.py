import numpy as np
import pytest
from scipy import integrate, stats

from coop.engines.trip_log import (
    NormalInverseGamma,
    StudentT,
    figures_prior,
    normal_inverse_gamma_update,
    predictive,
    predictive_quantile,
)

# Hoff 2009, A First Course in Bayesian Statistical Methods, ch. 5: wing lengths of nine midges, mm; his prior
# μ0 1.9, κ0 1, ν0 1, σ0² 0.01, which is shape ν0/2 and rate ν0 σ0²/2.
MIDGES = [1.64, 1.70, 1.72, 1.74, 1.82, 1.82, 1.82, 1.90, 2.08]
HOFF = NormalInverseGamma(1.9, 1.0, 0.5, 0.005)


def close(one, other):
    return [*one] == pytest.approx([*other], rel=1e-12)


def test_the_midges_of_hoff_give_his_posterior():
    found = normal_inverse_gamma_update(HOFF, MIDGES)
    # The book rounds μn to 1.814, and νn σn² / 2 is .07662 by hand from its formula.
    assert found.location == pytest.approx(1.814, abs=1e-12)
    assert (found.weight, found.shape, found.trips) == (10, 5, 9)
    assert found.rate == pytest.approx(0.07662, abs=5e-6)


def test_trips_logged_one_by_one_say_the_same_as_all_at_once():
    one_by_one = HOFF
    for length in MIDGES:
        one_by_one = normal_inverse_gamma_update(one_by_one, length)
    assert close(one_by_one, normal_inverse_gamma_update(HOFF, MIDGES))


def test_the_order_of_the_trips_does_not_matter():
    assert close(
        normal_inverse_gamma_update(HOFF, MIDGES[::-1]),
        normal_inverse_gamma_update(HOFF, MIDGES),
    )


def test_no_trip_changes_nothing():
    assert normal_inverse_gamma_update(HOFF, []) == HOFF


def test_the_next_trip_follows_the_normal_law_averaged_over_what_is_not_known():
    belief = normal_inverse_gamma_update(HOFF, MIDGES)
    spread = predictive(belief)
    unknown = stats.invgamma(belief.shape, scale=belief.rate)

    def density(x):
        def at(variance):
            sigma = np.sqrt(variance * (1 + 1 / belief.weight))
            return stats.norm.pdf(x, belief.location, sigma) * unknown.pdf(variance)

        return integrate.quad(at, 1e-6, 1.0, limit=200)[0]

    for x in (1.4, 1.75, 1.814, 2.1):
        by_t = stats.t.pdf(x, spread.degrees_of_freedom, spread.location, spread.scale)
        assert density(x) == pytest.approx(by_t, rel=1e-5)


def test_quantiles_of_the_next_trip_are_those_of_scipy():
    spread = StudentT(0.1, 0.3, 7.0, 4)
    p = np.array([0.001, 0.1, 0.5, 0.95, 0.9999])
    found = predictive_quantile(p, spread=spread)
    assert found == pytest.approx(stats.t.ppf(p, 7.0, loc=0.1, scale=0.3), rel=1e-9)
    assert found.tolist() == [float(predictive_quantile(one, spread=spread)) for one in p]


def test_many_trips_leave_their_own_mean_and_spread_and_nothing_of_the_prior():
    trips = np.random.default_rng(3).normal(0.25, 0.2, 20_000)
    spread = predictive(normal_inverse_gamma_update(NormalInverseGamma(0.0, 5.0, 2.5, 0.1), trips))
    assert spread.trips == 20_000
    assert spread.location == pytest.approx(trips.mean(), abs=1e-4)
    assert spread.scale == pytest.approx(trips.std(), rel=1e-3)
    assert predictive_quantile(0.95, spread=spread) == pytest.approx(0.25 + 1.645 * 0.2, abs=0.01)


def test_fewer_trips_leave_the_next_one_less_certain():
    prior = NormalInverseGamma(0.0, 2.0, 1.0, 0.04)
    same_spread = [-0.2, 0.2]
    few, many = (predictive(normal_inverse_gamma_update(prior, same_spread * repeats)) for repeats in (1, 30))
    assert predictive_quantile(0.95, spread=few) > predictive_quantile(0.95, spread=many)


def test_the_figures_are_worth_as_many_trips_as_is_said():
    drawn = np.random.default_rng(5).normal(-0.05, 0.3, 5000)
    prior = figures_prior(drawn, worth=10)
    assert prior.trips == 0
    assert prior.location == pytest.approx(drawn.mean())
    assert prior.rate / prior.shape == pytest.approx(drawn.var())
    # Ten trips of another mean draw the belief exactly half way.
    moved = normal_inverse_gamma_update(prior, np.full(10, prior.location + 1.0))
    assert moved.location == pytest.approx(prior.location + 0.5)


@pytest.mark.parametrize("name", ["weight", "shape", "rate"])
@pytest.mark.parametrize("value", [0.0, -1.0, np.nan, np.inf])
def test_a_belief_out_of_range_is_refused_by_name_and_value(name, value):
    belief = HOFF._replace(**{name: value})
    with pytest.raises(ValueError, match=f"{name} must be positive, not {value}"):
        normal_inverse_gamma_update(belief, MIDGES)
    with pytest.raises(ValueError, match=f"{name} must be positive, not {value}"):
        predictive(belief)


def test_a_location_that_is_no_number_is_refused():
    with pytest.raises(ValueError, match="location must be finite, not nan"):
        predictive(HOFF._replace(location=np.nan))


@pytest.mark.parametrize("value", [np.nan, np.inf])
def test_a_trip_that_is_no_number_is_refused(value):
    with pytest.raises(ValueError, match=f"observations must be finite, not {value}"):
        normal_inverse_gamma_update(HOFF, [0.1, value])


@pytest.mark.parametrize("name", ["scale", "degrees_of_freedom"])
@pytest.mark.parametrize("value", [0.0, -2.0, np.nan])
def test_a_spread_out_of_range_is_refused_by_name_and_value(name, value):
    with pytest.raises(ValueError, match=f"spread.{name} must be positive, not {value}"):
        predictive_quantile(0.5, spread=StudentT(0.0, 1.0, 5.0)._replace(**{name: value}))


@pytest.mark.parametrize("probability", [0.0, 1.0, np.nan])
def test_a_probability_without_a_quantile_is_refused(probability):
    with pytest.raises(ValueError, match=f"probability must be between 0 and 1, not {probability}"):
        predictive_quantile(probability, spread=StudentT(0.0, 1.0, 5.0))


@pytest.mark.parametrize("ratios", [[], [0.1], [0.2, 0.2]])
def test_figures_without_a_spread_are_no_prior(ratios):
    with pytest.raises(ValueError, match="log_ratios must be two or more and differ"):
        figures_prior(ratios, worth=5)


def test_figures_that_are_worth_nothing_are_refused():
    with pytest.raises(ValueError, match="worth must be positive, not 0"):
        figures_prior([0.1, 0.2], worth=0)
    with pytest.raises(ValueError, match="log_ratios must be finite, not nan"):
        figures_prior([0.1, np.nan], worth=5)
