import numpy as np
import pytest
from scipy import stats

from coop.engines.journey_time import draw_uniforms
from coop.engines.lognormal import Duration
from coop.engines.waiting import (
    DELAY_DIMENSIONS,
    Filling,
    draw_delay,
    erlang_wait_mean,
    erlang_wait_quantile,
    erlang_wait_survival,
)

HOUR = 3600.0
TEN_SEATS = {"seats_left": 10, "riders": 6 / HOUR}
PUNCTUAL = Duration(0.0, 0.0)


@pytest.fixture(scope="module")
def uniforms():
    return draw_uniforms(DELAY_DIMENSIONS, seed=11)


def test_ten_seats_and_six_riders_an_hour_wait_as_long_as_the_reference_says():
    # Reference values of the project, §6: mean 1.6667 h, P95 2.6175 h, P(> 3 h) .015381, to the digits given.
    assert erlang_wait_mean(**TEN_SEATS) / HOUR == pytest.approx(1.6667, abs=5e-5)
    assert erlang_wait_quantile(0.95, **TEN_SEATS) / HOUR == pytest.approx(2.6175, abs=5e-5)
    assert erlang_wait_survival(3 * HOUR, **TEN_SEATS) == pytest.approx(0.015381, abs=5e-7)


@pytest.mark.parametrize("seats", [1, 4, 14, 60])
def test_waits_are_those_of_scipys_gamma_distribution(seats):
    riders, p = 5 / HOUR, np.linspace(0.01, 0.99, 25)
    law = stats.gamma(seats, scale=1 / riders)
    assert erlang_wait_quantile(p, seats_left=seats, riders=riders) == pytest.approx(law.ppf(p), rel=1e-9)
    wait = np.linspace(0, 12 * HOUR, 25)
    assert erlang_wait_survival(wait, seats_left=seats, riders=riders) == pytest.approx(
        law.sf(wait), abs=1e-12
    )
    assert erlang_wait_mean(seats_left=seats, riders=riders) == pytest.approx(law.mean(), rel=1e-12)


@pytest.mark.parametrize("seats", [1, 3, 12])
def test_it_still_stands_just_while_fewer_riders_have_come_than_seats_were_left(seats):
    wait, riders = np.array([0.5, 1.0, 4.0]) * HOUR, 3 / HOUR
    fewer = stats.poisson.cdf(seats - 1, riders * wait)
    found = erlang_wait_survival(wait, seats_left=seats, riders=riders)
    assert found == pytest.approx(fewer, abs=1e-12)


def test_quantile_and_survival_undo_each_other():
    p = np.array([0.05, 0.5, 0.9])
    wait = erlang_wait_quantile(p, **TEN_SEATS)
    assert 1 - erlang_wait_survival(wait, **TEN_SEATS) == pytest.approx(p, abs=1e-12)


def test_an_array_equals_its_scalars():
    seats, riders = np.array([0, 1, 9]), np.array([1e-3, 2e-3, 5e-4])
    at_once = erlang_wait_quantile(0.7, seats_left=seats, riders=riders)
    one_by_one = [
        float(erlang_wait_quantile(0.7, seats_left=s, riders=r)) for s, r in zip(seats, riders, strict=True)
    ]
    assert at_once.tolist() == one_by_one


def test_a_vehicle_without_a_seat_left_leaves_at_once(uniforms):
    full = {"seats_left": 0, "riders": 6 / HOUR}
    assert erlang_wait_mean(**full) == 0
    assert erlang_wait_quantile(0.999, **full) == 0
    assert erlang_wait_survival(0.0, **full) == 0
    assert not draw_delay(delay=PUNCTUAL, filling=Filling(**full), uniforms=uniforms).any()


def test_a_delay_by_the_clock_has_the_mean_and_quantiles_of_its_figures(uniforms):
    late = draw_delay(delay=Duration(1800.0, 0.8), filling=None, uniforms=uniforms)
    error = 1800 * 0.8 / np.sqrt(len(late))
    assert late.mean() == pytest.approx(1800.0, abs=2 * error)
    law = stats.lognorm(s=np.sqrt(np.log(1.64)), scale=1800 / np.sqrt(1.64))
    assert np.quantile(late, [0.1, 0.5, 0.9]) == pytest.approx(law.ppf([0.1, 0.5, 0.9]), rel=2e-3)
    assert (late > 0).all()


def test_a_vehicle_that_leaves_when_full_is_late_by_its_riders_and_its_delay(uniforms):
    delay = Duration(900.0, 0.5)
    late = draw_delay(delay=delay, filling=Filling(**TEN_SEATS), uniforms=uniforms)
    spread = np.hypot(np.sqrt(10) / TEN_SEATS["riders"], 450.0)
    assert late.mean() == pytest.approx(10 / TEN_SEATS["riders"] + 900, abs=2 * spread / np.sqrt(len(late)))
    assert late.std() == pytest.approx(spread, rel=0.01)
    by_the_clock = draw_delay(delay=delay, filling=None, uniforms=uniforms)
    assert (late > by_the_clock).all()


def test_a_punctual_vehicle_by_the_clock_is_never_late(uniforms):
    assert not draw_delay(delay=PUNCTUAL, filling=None, uniforms=uniforms).any()


def test_more_riders_fill_it_sooner_in_every_draw(uniforms):
    slow, fast = (
        draw_delay(delay=PUNCTUAL, filling=Filling(8, riders / HOUR), uniforms=uniforms) for riders in (3, 6)
    )
    assert slow == pytest.approx(2 * fast, rel=1e-12)


@pytest.mark.parametrize("seats", [-1, 2.5, 1001, np.nan])
def test_seats_that_nobody_can_have_are_refused(seats):
    with pytest.raises(ValueError, match=f"seats_left must be whole and 0 to 1000, not {float(seats)}"):
        erlang_wait_mean(seats_left=seats, riders=1.0)


@pytest.mark.parametrize("riders", [0.0, -1.0, np.nan, np.inf])
def test_riders_that_never_come_are_refused_even_for_a_full_vehicle(riders):
    with pytest.raises(ValueError, match=f"riders must be positive, not {riders}"):
        erlang_wait_quantile(0.5, seats_left=0, riders=riders)


@pytest.mark.parametrize("wait", [-1.0, np.nan, np.inf])
def test_a_wait_out_of_range_is_refused(wait):
    with pytest.raises(ValueError, match=f"wait must be 0 or more, not {wait}"):
        erlang_wait_survival(wait, **TEN_SEATS)


@pytest.mark.parametrize("probability", [0.0, 1.0, np.nan])
def test_a_probability_without_a_quantile_is_refused(probability):
    with pytest.raises(ValueError, match=f"probability must be between 0 and 1, not {probability}"):
        erlang_wait_quantile(probability, **TEN_SEATS)


def test_a_negative_delay_and_uniforms_of_the_wrong_shape_are_refused(uniforms):
    with pytest.raises(ValueError, match=r"mean must be 0 or more, not -5\.0"):
        draw_delay(delay=Duration(-5.0, 0.2), filling=None, uniforms=uniforms)
    with pytest.raises(ValueError, match="uniforms must have 2 columns"):
        draw_delay(delay=PUNCTUAL, filling=None, uniforms=uniforms[:, :1])
