import numpy as np
import pytest
from scipy import stats

from coop.engines.journey_time import (
    COUNT,
    Breakdown,
    Leg,
    draw_journey,
    draw_uniforms,
    journey_dimensions,
    log_ratio,
)
from coop.engines.lognormal import Duration, lognormal_quantile
from coop.engines.trip_log import StudentT, figures_prior, normal_inverse_gamma_update, predictive

HOUR = 3600.0
LEGS = [
    Leg(1.2 * HOUR, 0.8 * HOUR, 0.5, 0.3 * HOUR, 0.6),
    Leg(3.0 * HOUR, 2.2 * HOUR, 0.6, 0.5 * HOUR, 0.8),
    Leg(3.6 * HOUR, 2.8 * HOUR, 0.4, 0.4 * HOUR, 0.5),
    Leg(4.1 * HOUR, 3.1 * HOUR, 0.5, 0.7 * HOUR, 1.0),
]
PLAIN = [Leg(3.0 * HOUR, 2.0 * HOUR, 0.6, 0.0, 0.0), Leg(5.0 * HOUR, 4.0 * HOUR, 0.9, 0.0, 0.0)]
NONE = Breakdown(0.0, 0.0, 0.0)
SOMETIMES = Breakdown(0.08, 5 * HOUR, 0.7)
DOOR = Duration(0.5 * HOUR, 0.4)
AT_ONCE = Duration(0.0, 0.0)
FLOORS = np.array([leg.floor for leg in LEGS])


def drawn(*, legs=LEGS, correlation=0.5, breakdown=SOMETIMES, last_stretch=DOOR, spread=None, seed=1):
    return draw_journey(
        legs=legs,
        correlation=correlation,
        breakdown=breakdown,
        last_stretch=last_stretch,
        spread=spread,
        uniforms=draw_uniforms(journey_dimensions(legs), seed=seed),
    )


def test_there_are_at_least_twenty_thousand_draws():
    assert drawn().travel.shape == (COUNT,)
    assert COUNT >= 20_000


def test_the_same_seed_gives_the_same_journeys_and_another_seed_others():
    one, again, other = drawn(seed=4), drawn(seed=4), drawn(seed=5)
    assert np.array_equal(one.travel, again.travel)
    assert not np.array_equal(one.travel, other.travel)
    assert np.quantile(one.travel, 0.95) == pytest.approx(np.quantile(other.travel, 0.95), rel=5e-3)


def test_the_parts_of_every_journey_add_up():
    for journey in (drawn(), drawn(spread=StudentT(0.1, 0.3, 9.0, 5))):
        whole = journey.leg_times.sum(axis=1) + journey.breakdown + journey.last_stretch
        assert journey.travel == pytest.approx(whole, rel=1e-14)
        assert journey.road == pytest.approx(whole - journey.last_stretch, rel=1e-12)


@pytest.mark.parametrize("correlation", [0.0, 0.5, 0.999])
def test_the_mean_of_the_draws_is_the_sum_of_the_means(correlation):
    journey = drawn(correlation=correlation)
    expected = sum(leg.mean + leg.stop_mean for leg in LEGS) + 0.08 * 5 * HOUR + DOOR.mean
    assert journey.travel.mean() == pytest.approx(expected, abs=3 * journey.travel.std() / np.sqrt(COUNT))


@pytest.mark.parametrize("correlation", [0.0, 0.3, 0.7])
def test_the_variance_is_that_of_a_sum_of_correlated_lognormal_times(correlation):
    # Johnson, Kotz & Balakrishnan 1994 (from memory): cov = m1 m2 (exp(ρ σ1 σ2) − 1).
    mean = np.array([leg.mean - leg.floor for leg in PLAIN])
    sigma = np.sqrt(np.log1p(np.array([leg.coefficient_of_variation for leg in PLAIN]) ** 2))
    rho = np.where(np.eye(2), 1.0, correlation)
    covariance = np.outer(mean, mean) * np.expm1(rho * np.outer(sigma, sigma))
    journey = drawn(legs=PLAIN, correlation=correlation, breakdown=NONE, last_stretch=AT_ONCE)
    assert journey.travel.var() == pytest.approx(covariance.sum(), rel=0.03)


@pytest.mark.parametrize("correlation", [0.0, 0.4, 0.9])
def test_the_logarithms_of_the_legs_are_as_correlated_as_is_asked(correlation):
    journey = drawn(legs=PLAIN, correlation=correlation, breakdown=NONE)
    logs = np.log(journey.leg_times - [leg.floor for leg in PLAIN])
    assert np.corrcoef(logs.T)[0, 1] == pytest.approx(correlation, abs=0.01)


def test_one_leg_alone_has_the_quantiles_of_its_figures():
    leg = Leg(4 * HOUR, 3 * HOUR, 0.5, 0.0, 0.0)
    p = np.array([0.05, 0.25, 0.5, 0.75, 0.95])
    journey = drawn(legs=[leg], correlation=0.0, breakdown=NONE, last_stretch=AT_ONCE)
    expected = leg.floor + lognormal_quantile(p, mean=HOUR, coefficient_of_variation=0.5)
    assert np.quantile(journey.travel, p) == pytest.approx(expected, rel=1e-3)


@pytest.mark.parametrize("correlation", [0.0, 0.5, 0.9])
def test_the_sum_of_95th_percentiles_overstates_the_95th_percentile_of_the_sum(correlation):
    journey = drawn(correlation=correlation, breakdown=NONE, last_stretch=AT_ONCE)
    of_the_legs = np.quantile(journey.leg_times, 0.95, axis=0).sum()
    assert of_the_legs > 1.005 * np.quantile(journey.travel, 0.95)


def test_quantiles_add_only_where_the_slow_trips_of_all_legs_are_the_same():
    journey = drawn(legs=PLAIN, correlation=0.999, breakdown=NONE, last_stretch=AT_ONCE)
    of_the_legs = np.quantile(journey.leg_times, 0.95, axis=0).sum()
    assert of_the_legs == pytest.approx(np.quantile(journey.travel, 0.95), rel=1e-3)


def test_correlation_raises_the_spread_of_the_sum_and_leaves_each_leg_alone():
    journeys = [drawn(correlation=rho, breakdown=NONE) for rho in (0.0, 0.25, 0.5, 0.75, 0.99)]
    spreads = [journey.travel.std() for journey in journeys]
    late = [np.quantile(journey.travel, 0.95) for journey in journeys]
    assert spreads == sorted(spreads)
    assert late == sorted(late)
    for journey in journeys:
        assert journey.leg_times.std(axis=0) == pytest.approx(journeys[0].leg_times.std(axis=0), rel=0.02)


@pytest.mark.parametrize("spread", [None, StudentT(-2.0, 0.8, 4.0, 3)])
def test_no_leg_is_ever_faster_than_its_floor(spread):
    journey = drawn(spread=spread)
    assert (journey.leg_times >= FLOORS).all()
    assert (journey.road > FLOORS.sum()).all()


def test_without_variation_every_journey_takes_its_mean():
    legs = [leg._replace(coefficient_of_variation=0.0, stop_coefficient_of_variation=0.0) for leg in LEGS]
    journey = drawn(legs=legs, breakdown=NONE, last_stretch=Duration(600.0, 0.0))
    assert journey.travel == pytest.approx(sum(leg.mean + leg.stop_mean for leg in LEGS) + 600, rel=1e-12)


def test_as_many_trips_break_down_as_the_chance_says_and_lose_what_it_says():
    broken = drawn().breakdown
    happens = broken > 0
    assert happens.mean() == pytest.approx(SOMETIMES.chance, abs=1e-3)
    p = np.array([0.1, 0.5, 0.9])
    expected = lognormal_quantile(p, mean=SOMETIMES.mean, coefficient_of_variation=0.7)
    assert np.quantile(broken[happens], p) == pytest.approx(expected, rel=0.01)


def test_a_chance_of_nought_never_breaks_down_and_of_one_always():
    assert not drawn(breakdown=Breakdown(0.0, 5 * HOUR, 0.7)).breakdown.any()
    always = drawn(breakdown=Breakdown(1.0, 5 * HOUR, 0.7)).breakdown
    assert (always > 0).all()
    assert always.mean() == pytest.approx(5 * HOUR, rel=0.01)


def test_stops_breakdown_and_last_stretch_say_nothing_of_each_other():
    legs = [leg._replace(coefficient_of_variation=0.0) for leg in LEGS[:2]]
    journey = drawn(legs=legs, breakdown=Breakdown(1.0, 5 * HOUR, 0.7))
    parts = np.column_stack([journey.leg_times, journey.breakdown, journey.last_stretch])
    apart = np.corrcoef(parts.T)[~np.eye(4, dtype=bool)]
    assert np.abs(apart).max() < 0.02


def test_a_breakdown_makes_no_journey_shorter():
    assert (drawn().travel >= drawn(breakdown=NONE).travel).all()


def test_with_a_log_the_time_above_the_floor_follows_the_students_t_of_scipy():
    spread = StudentT(0.15, 0.25, 8.0, 6)
    journey = drawn(spread=spread)
    ratios = np.sort(log_ratio(journey.leg_times.sum(axis=1), legs=LEGS))
    middle_ranks = (np.arange(COUNT) + 0.5) / COUNT
    expected = stats.t.ppf(middle_ranks, 8.0, loc=0.15, scale=0.25)
    assert ratios == pytest.approx(expected, abs=1e-9)
    assert journey.trips == 6
    assert drawn().trips == 0


def test_a_log_keeps_which_trip_is_slow_and_how_its_time_is_shared_out():
    plain, logged = drawn(), drawn(spread=StudentT(0.15, 0.25, 8.0, 6))
    legs, legs_logged = plain.leg_times - FLOORS, logged.leg_times - FLOORS
    assert np.array_equal(np.argsort(legs.sum(axis=1)), np.argsort(legs_logged.sum(axis=1)))
    shares, shares_logged = (it / it.sum(axis=1, keepdims=True) for it in (legs, legs_logged))
    assert shares_logged == pytest.approx(shares, abs=1e-9)
    assert np.array_equal(plain.last_stretch, logged.last_stretch)


def test_quick_trips_in_the_log_do_not_make_breakdowns_rarer_or_shorter():
    plain, logged = drawn(), drawn(spread=StudentT(-0.5, 0.05, 30.0, 20))
    assert (logged.road[plain.breakdown == 0] < plain.road[plain.breakdown == 0]).mean() > 0.5
    assert np.array_equal(plain.breakdown, logged.breakdown)


def test_slow_trips_in_the_log_make_the_next_one_slower_and_more_of_them_the_more_so():
    prior = figures_prior(log_ratio(drawn(breakdown=NONE).road, legs=LEGS), worth=10)
    twice = np.log(2.0)
    medians = []
    for trips in (0, 3, 30, 3000):
        spread = predictive(normal_inverse_gamma_update(prior, np.full(trips, twice)))
        medians.append(np.median(log_ratio(drawn(breakdown=NONE, spread=spread).road, legs=LEGS)))
    assert medians == sorted(medians)
    assert medians[0] == pytest.approx(prior.location, abs=1e-3)
    assert medians[-1] == pytest.approx(twice, abs=0.01)


def test_a_trip_as_long_as_the_figures_expect_has_a_log_ratio_of_nought():
    expected = sum(leg.mean + leg.stop_mean for leg in LEGS)
    floor = FLOORS.sum()
    road = floor + (expected - floor) * np.array([1.0, np.e, 1 / np.e])
    assert log_ratio(road, legs=LEGS) == pytest.approx([0, 1, -1], abs=1e-12)


@pytest.mark.parametrize("road", [FLOORS.sum(), 0.0, -HOUR, np.nan, np.inf])
def test_a_logged_trip_no_longer_than_the_floors_is_refused(road):
    with pytest.raises(ValueError, match=r"road must be longer than the floor of 32040 s, not"):
        log_ratio(road, legs=LEGS)


def test_uniforms_fill_every_column_evenly_and_reach_neither_end():
    uniforms = draw_uniforms(20, seed=2)
    assert uniforms.min() > 0
    assert uniforms.max() < 1
    # The middle of a cell of side 2^-30 is an odd number of half sides.
    assert (uniforms * 2**31 % 2 == 1).all()
    # One point in each of 32 768 cells of every column: what a random draw would hardly ever give.
    cells = np.sort(np.floor(uniforms * COUNT), axis=0)
    assert np.array_equal(cells, np.repeat(np.arange(COUNT)[:, None], 20, axis=1))


@pytest.mark.parametrize("count", [0, 1, 3, 20_000, 2**21])
def test_a_count_that_is_no_power_of_two_is_refused(count):
    with pytest.raises(ValueError, match=f"count must be a power of two up to 2\\^20, not {count}"):
        draw_uniforms(2, seed=1, count=count)


@pytest.mark.parametrize(("name", "value"), [("dimensions", 0), ("dimensions", 1001), ("seed", -1)])
def test_dimensions_and_seeds_out_of_range_are_refused(name, value):
    with pytest.raises(ValueError, match=f"{name} must be .*, not {value}"):
        draw_uniforms(**{"dimensions": 2, "seed": 1, name: value})


@pytest.mark.parametrize("name", Leg._fields)
@pytest.mark.parametrize("value", [-1.0, np.nan, np.inf])
def test_a_leg_out_of_range_is_refused_with_its_place_name_and_value(name, value):
    legs = [LEGS[0], LEGS[1]._replace(**{name: value})]
    with pytest.raises(ValueError, match=rf"legs\[1\].{name} must be 0 or more, not {value}"):
        drawn(legs=legs)


@pytest.mark.parametrize("floor", [3.0 * HOUR, 4.0 * HOUR])
def test_a_floor_that_is_not_below_the_mean_is_refused(floor):
    with pytest.raises(ValueError, match=rf"legs\[0\].floor must be below the mean of 10800 s, not {floor}"):
        drawn(legs=[PLAIN[0]._replace(floor=floor)])


def test_a_route_without_legs_is_refused():
    with pytest.raises(ValueError, match="legs must be one or more"):
        journey_dimensions([])


@pytest.mark.parametrize("correlation", [-0.1, 1.0, np.nan])
def test_a_correlation_out_of_range_is_refused(correlation):
    with pytest.raises(ValueError, match=f"correlation must be 0 to 0.999, not {correlation}"):
        drawn(correlation=correlation)


@pytest.mark.parametrize("chance", [-0.1, 1.1, np.nan])
def test_a_chance_of_breakdown_out_of_range_is_refused(chance):
    with pytest.raises(ValueError, match=f"breakdown.chance must be 0 to 1, not {chance}"):
        drawn(breakdown=Breakdown(chance, HOUR, 0.5))


def test_a_breakdown_out_of_range_is_refused_even_if_it_never_happens():
    with pytest.raises(ValueError, match=r"mean must be 0 or more, not -1\.0"):
        drawn(breakdown=Breakdown(0.0, -1.0, 0.5))


def test_a_spread_so_wide_that_no_number_holds_its_slowest_trip_is_refused():
    with pytest.raises(ValueError, match=r"spread.scale must be so narrow .*, not 5\.0"):
        drawn(spread=StudentT(0.0, 5.0, 1.0))


def test_uniforms_of_another_route_are_refused():
    with pytest.raises(ValueError, match="uniforms must have 12 columns, not shape"):
        draw_journey(
            legs=LEGS,
            correlation=0.5,
            breakdown=NONE,
            last_stretch=DOOR,
            spread=None,
            uniforms=draw_uniforms(11, seed=1, count=64),
        )
