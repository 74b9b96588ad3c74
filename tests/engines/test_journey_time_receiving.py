import numpy as np
import pytest

from coop.engines.journey_time import receive

HOUR = 3600.0
OPENS = np.array([8.0, 14.0, 32.0]) * HOUR
CLOSES = np.array([12.0, 17.0, 36.0]) * HOUR


def one_by_one(arrival, opens, closes):
    for begin, end in zip(opens, closes, strict=True):
        if arrival <= end:
            return max(arrival, begin)
    return np.inf


@pytest.mark.parametrize(
    ("hours", "handed_over"),
    [
        (0.0, 8.0),
        (8.0, 8.0),
        (9.5, 9.5),
        (12.0, 12.0),
        (12.5, 14.0),
        (17.0, 17.0),
        (20.0, 32.0),
        (36.0, 36.0),
        (36.001, np.inf),
        (np.inf, np.inf),
    ],
)
def test_fish_is_taken_within_the_hours_else_at_the_next_opening(hours, handed_over):
    assert receive(hours * HOUR, opens=OPENS, closes=CLOSES) == handed_over * HOUR


@pytest.mark.parametrize("seed", range(5))
def test_many_arrivals_are_taken_as_a_plain_loop_says(seed):
    rng = np.random.default_rng(seed)
    edges = np.sort(rng.integers(0, 400, 24)) * 900.0
    opens, closes = edges[::2], edges[1::2]
    # Quarter hours, so that many arrivals fall exactly on an edge.
    arrival = rng.integers(-10, 420, 3000) * 900.0
    expected = [one_by_one(one, opens, closes) for one in arrival]
    found = receive(arrival, opens=opens, closes=closes)
    assert found.tolist() == expected
    assert np.isinf(found).any()
    assert (found == arrival).any()
    assert (found > arrival).any()


def test_an_array_equals_its_scalars():
    arrival = np.array([1.0, 13.0, 99.0]) * HOUR
    singly = [float(receive(one, opens=OPENS, closes=CLOSES)) for one in arrival]
    assert receive(arrival, opens=OPENS, closes=CLOSES).tolist() == singly


def test_arriving_later_is_never_handed_over_sooner():
    found = receive(np.linspace(0, 40 * HOUR, 5000), opens=OPENS, closes=CLOSES)
    finite = found[np.isfinite(found)]
    assert (np.diff(finite) >= 0).all()
    assert np.isinf(found[len(finite) :]).all()


def test_a_buyer_who_always_receives_takes_it_on_arrival():
    arrival = np.array([0.0, 5.0, 1e7])
    assert receive(arrival, opens=[0.0], closes=[np.inf]).tolist() == arrival.tolist()


def test_a_buyer_who_never_receives_never_takes_it():
    assert receive([5.0, 6.0], opens=[], closes=[]).tolist() == [np.inf, np.inf]


@pytest.mark.parametrize(
    ("opens", "closes", "message"),
    [
        ([8.0], [7.0], r"closes must be at or after its opening, not 7\.0"),
        ([8.0, 11.0], [12.0, 15.0], r"opens must be at or after the closing before it, not 11\.0"),
        ([14.0, 8.0], [17.0, 12.0], r"opens must be at or after the closing before it, not 8\.0"),
        ([np.nan], [7.0], r"closes must be at or after its opening, not 7\.0"),
        ([8.0, 9.0], [12.0], "opens and closes must be as many"),
    ],
)
def test_hours_out_of_order_are_refused(opens, closes, message):
    with pytest.raises(ValueError, match=message):
        receive(1.0, opens=opens, closes=closes)


def test_an_arrival_that_is_no_number_is_refused():
    with pytest.raises(ValueError, match="arrival must be a number, not nan"):
        receive([1.0, np.nan], opens=OPENS, closes=CLOSES)
