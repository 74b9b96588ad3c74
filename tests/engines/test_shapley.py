import numpy as np
import pytest
from coopgt import shapley_value
from hypothesis import given, settings
from hypothesis import strategies as st

from coop.engines.shapley import shapley, shapley_sampled
from tests.engines.cost_games import airport, by_dictionary, by_size, coalitions, glove, lots, skane

FEW = settings(max_examples=50, deadline=None)
TABLES = st.integers(1, 6).flatmap(
    lambda n: st.lists(st.integers(-50, 90), min_size=2**n - 1, max_size=2**n - 1)
)


def game_of(values):
    return np.r_[0.0, values]


@pytest.mark.parametrize(
    ("game", "expected"),
    [
        # Reference values of the project, §7: Littlechild & Owen's airport, twice; a shared ride.
        (airport([1500, 2200, 3000]), [500, 850, 1650]),
        (airport([40, 50, 60, 70, 80, 90]), np.array([40, 52, 67, 87, 117, 177]) / 6),
        (airport([6, 12, 42]), [2, 5, 35]),
        # Ibn Ezra's inheritance, Aumann 2010: an estate of 120, claims 120, 60, 40, 30.
        (-airport([120, 60, 40, 30]), [-(80 + 5 / 6), -(20 + 5 / 6), -(10 + 5 / 6), -7.5]),
        # Winston, Operations Research, section 14.7, problem 3: −2 alone, 2 as a pair, 3 together.
        (by_size([-2, -2, -2, 2, 2, 2, 3], 3), [1, 1, 1]),
        # Lemaire 1991, ASTIN Bulletin 21:17; the value from memory.
        (by_dictionary([46125, 69187.5, 90000, 53812.5, 17437.5, 30750, 5812.5], 3), [51750, 25875, 12375]),
        # Gloves, Wiese's textbook p. 65 (as quoted in a public test): three left, one right.
        (-glove(3, 1), [1 / 12, 1 / 12, 1 / 12, 3 / 4]),
        # Gloves, one left, nine right: the left one is worth 9/10, unless it comes first.
        (-glove(1, 9), [9 / 10] + [1 / 90] * 9),
    ],
)
def test_published_games(game, expected):
    assert shapley(game) == pytest.approx(expected, rel=1e-12)


def test_water_for_skane():
    # Young, Okada & Hashimoto 1979, IIASA WP-79-77, Table 7, million crowns, ±0.005 and its own rounding.
    assert shapley(skane()) == pytest.approx([20.01, 10.71, 6.61, 10.37, 16.94, 19.18], abs=0.0065)


def littlechild_owen(costs):
    """Each step of the runway is paid by those who need it: Littlechild & Owen 1973, Manag. Sci. 20:370."""
    order = np.argsort(costs, kind="stable")
    steps = np.diff(np.asarray(costs, float)[order], prepend=0.0)
    shares = np.empty(len(costs))
    shares[order] = np.cumsum(steps / np.arange(len(costs), 0, -1))
    return shares


@FEW
@given(st.lists(st.integers(0, 60), min_size=1, max_size=8))
def test_an_airport_is_paid_step_by_step(costs):
    assert shapley(airport(costs)) == pytest.approx(littlechild_owen(costs), abs=1e-10)


def test_an_airport_of_twenty():
    costs = np.random.default_rng(20).uniform(100, 900, 20)
    game = np.zeros(2**20)
    for player, cost in enumerate(costs):
        half = 2**player
        game[half : 2 * half] = np.maximum(game[:half], cost)
    assert shapley(game) == pytest.approx(littlechild_owen(costs), rel=1e-11)


@pytest.mark.parametrize("players", [1, 2, 3, 4, 5, 6, 7, 8])
def test_coopgt_agrees(players):
    game = game_of(np.random.default_rng(players).uniform(-5, 40, 2**players - 1))
    named = {(): 0.0}
    for group in coalitions(players):
        named[tuple(player + 1 for player in group)] = game[sum(1 << player for player in group)]
    expected = shapley_value.calculate(named, players)
    assert shapley(game) == pytest.approx(expected, rel=1e-10, abs=1e-10)


@FEW
@given(TABLES)
def test_the_shares_sum_to_the_bill(values):
    game = game_of(values)
    assert shapley(game).sum() == pytest.approx(game[-1], abs=1e-9)


@FEW
@given(TABLES, st.integers(-4, 9), st.integers(0, 2**32 - 1))
def test_two_bills_may_be_shared_one_by_one(values, factor, seed):
    game = game_of(values)
    other = game_of(np.random.default_rng(seed).integers(0, 99, game.size - 1))
    together = shapley(game + factor * other)
    assert together == pytest.approx(shapley(game) + factor * shapley(other), abs=1e-9)


@FEW
@given(TABLES, st.integers(0, 30))
def test_who_always_adds_the_same_pays_just_that(values, price):
    game = game_of(values)
    with_one_more = np.concatenate([game, game + price])
    assert shapley(with_one_more)[-1] == pytest.approx(price, abs=1e-9)
    assert shapley(with_one_more)[:-1] == pytest.approx(shapley(game), abs=1e-9)


def test_alike_players_pay_alike_and_order_does_not_matter():
    found = shapley(lots([20, 45, 20, 35], capacity=60, cost=9000))
    assert found[0] == pytest.approx(found[2], rel=1e-12)
    turned = shapley(lots([35, 20, 45, 20], capacity=60, cost=9000))
    assert turned == pytest.approx(found[::-1], rel=1e-12)


def airport_cost(costs):
    return lambda joined: np.where(joined, costs, 0.0).max(axis=1)


def test_a_sample_lies_within_its_standard_errors():
    costs = np.random.default_rng(5).uniform(100, 900, 40)
    found = shapley_sampled(airport_cost(costs), players=40, orders=4000, seed=3)
    off = (found.shares - littlechild_owen(costs)) / found.standard_error
    assert np.abs(off).max() < 4
    assert found.shares.sum() == pytest.approx(costs.max(), rel=1e-12)


def test_a_sample_agrees_with_what_is_exact():
    game = np.r_[0.0, np.random.default_rng(9).uniform(0, 50, 255)]
    bits = 2 ** np.arange(8)
    found = shapley_sampled(lambda joined: game[joined @ bits], players=8, orders=20_000, seed=1)
    assert np.abs((found.shares - shapley(game)) / found.standard_error).max() < 4


def test_estimates_of_many_seeds_scatter_as_their_standard_errors_say():
    game = np.r_[0.0, np.random.default_rng(2).uniform(0, 50, 63)]
    bits = 2 ** np.arange(6)
    found = [
        shapley_sampled(lambda joined: game[joined @ bits], players=6, orders=50, seed=seed)
        for seed in range(300)
    ]
    scatter = np.std([one.shares for one in found], axis=0, ddof=1)
    said = np.mean([one.standard_error for one in found], axis=0)
    # The scatter of 300 is known to 1 in √600, four of which are granted.
    assert scatter == pytest.approx(said, rel=4 / np.sqrt(600))


def test_four_times_as_many_orders_halve_the_standard_error():
    costs = np.arange(1.0, 31.0)
    few, many = (
        shapley_sampled(airport_cost(costs), players=30, orders=orders, seed=8) for orders in (1000, 4000)
    )
    assert np.median(many.standard_error / few.standard_error) == pytest.approx(0.5, rel=0.1)


def test_the_same_seed_gives_the_same_sample_in_any_batches(monkeypatch):
    cost = airport_cost(np.arange(1.0, 26.0))
    one = shapley_sampled(cost, players=25, orders=300, seed=4)
    again = shapley_sampled(cost, players=25, orders=300, seed=4)
    other = shapley_sampled(cost, players=25, orders=300, seed=5)
    assert one.shares.tolist() == again.shares.tolist()
    assert one.shares.tolist() != other.shares.tolist()
    monkeypatch.setattr("coop.engines.shapley.AT_ONCE", 25 * 25 * 7)
    assert shapley_sampled(cost, players=25, orders=300, seed=4).shares == pytest.approx(
        one.shares, rel=1e-12
    )


def test_what_adds_up_is_known_without_error():
    prices = np.linspace(1, 9, 50)
    found = shapley_sampled(lambda joined: joined @ prices, players=50, orders=20, seed=0)
    assert found.shares == pytest.approx(prices, rel=1e-9)
    assert found.standard_error == pytest.approx(np.zeros(50), abs=1e-10)


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"players": 0}, "players must be whole and 1 to 1000, not 0"),
        ({"players": 1001}, "players must be whole and 1 to 1000, not 1001"),
        ({"players": 2.0}, r"players must be whole and 1 to 1000, not 2\.0"),
        ({"orders": 1}, "orders must be whole and 2 to 3333333, not 1"),
        ({"orders": 10**7}, "orders must be whole and 2 to 3333333, not 10000000"),
        ({"cost": lambda joined: np.full(len(joined), np.nan)}, "cost must be finite, not nan"),
        ({"cost": lambda joined: np.zeros(3)}, r"cost must give 30 costs, not shape \(3,\)"),
    ],
)
def test_a_sample_that_cannot_be_drawn_is_refused(changes, message):
    asked = {"cost": lambda joined: joined.sum(axis=1), "players": 3, "orders": 10, "seed": 0, **changes}
    with pytest.raises(ValueError, match=message):
        shapley_sampled(asked.pop("cost"), **asked)


@pytest.mark.parametrize(
    ("costs", "message"),
    [
        (np.zeros(2**21), r"costs must be of all coalitions of 1 to 20 players, not \(2097152,\)"),
        ([0, 1, 2], r"costs must be of all coalitions of 1 to 20 players, not \(3,\)"),
        ([0, np.nan], "costs must be finite, not nan"),
        ([5, 6], r"costs must begin with 0 for nobody, not 5\.0"),
        ([[0, 1]], r"not \(1, 2\)"),
    ],
)
def test_a_table_that_is_none_is_refused(costs, message):
    with pytest.raises(ValueError, match=message):
        shapley(costs)
