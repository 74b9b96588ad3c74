import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coop.engines.claims import contested
from coop.engines.coalitions import coalition_sums, subadditive_cover
from coop.engines.core import core_is_empty, objection
from coop.engines.nucleolus import nucleolus
from tests.engines.cost_games import (
    airport,
    bankruptcy,
    by_dictionary,
    by_size,
    glove,
    lots,
    objects_to,
    skane,
)

FEW = settings(max_examples=40, deadline=None)

# Guajardo & Jörnsten 2015, Common mistakes in computing the nucleolus, EJOR 241:931: four published games
# whose nucleolus had been printed wrong, ties not being settled by duality, and the right one (read as quoted
# in a public test script, coalitions in the order of a dictionary). Gains are costs below 0.
LEMAIRE = [-46125, -69187.5, -90000, -53812.5, -17437.5, -30750, -5812.5]
HASAN = [8, 8, 10, 20, 19, 10, 20, 19, 1, 10, 13, 12, 10, 12, 11]
OH_AND_SHIN = [375144, 568232, 772500, 551055, 245280, 452411, 211239]
SAKAWA = [
    *(
        0.060,
        0.378,
        0.536,
        0.906,
        1,
        0.573,
        0.747,
        0.874,
        0.485,
        0.144,
        0.546,
        0.634,
        0.255,
        0.408,
        0.561,
        0.182,
    ),
    *(0.168, 0.337, 0.706, 0.801, 0.379, 0.538, 0.668, 0.279, 0.03, 0.383, 0.473, 0.083, 0.249, 0.386, 0),
]
CORRECTED = {
    "insurances": (by_dictionary(LEMAIRE, 3), [-52687.5, -24468.75, -12843.75]),
    "broadcast": (by_dictionary(HASAN, 4), [7.5, 0.5, 1.5, 10.5]),
    "manufacturing": (by_dictionary(OH_AND_SHIN, 3), [331695.25, 233051.25, 207753.5]),
    "production": (-by_dictionary(SAKAWA, 5), [-0.165, -0.3205, -0.0845, -0.3745, -0.0555]),
}


@pytest.mark.parametrize("name", CORRECTED)
def test_games_that_were_printed_wrong_come_out_right(name):
    game, expected = CORRECTED[name]
    assert nucleolus(game) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize(
    ("gains", "expected"),
    [
        # Ferguson, Game Theory (UCLA lecture notes), part IV, as quoted in a public test.
        ([-1, 0, 1, 3, 4, 2, 5], [8 / 3, 2 / 3, 5 / 3]),
        # Peleg & Sudhölter 2007, example 5.5.12: without the limit it would be 3, 3, −4.
        ([0, 0, 0, 10, 0, 0, 2], [1, 1, 0]),
        # By hand: shares are at least 2, 6, 5; e(12) = x3 + 1, e(23) = x1 + 4 are least at x1 = 2, x3 = 5.
        ([2, 6, 5, 15, 1, 18, 14], [2, 7, 5]),
        # Documentation of the R package CoopGame, nucleolus.
        ([0, 0, 0, 0, 5, 5, 8, 9, 10, 8, 13, 15, 16, 17, 21], [3.5, 4.5, 5.5, 7.5]),
    ],
)
def test_games_of_textbooks_shared_as_gains(gains, expected):
    players = len(expected)
    assert -nucleolus(-by_size(gains, players)) == pytest.approx(expected, abs=1e-9)


def test_a_ride_whose_longest_way_counts():
    # Reference values of the project, §7.
    assert nucleolus(airport([6, 12, 42])) == pytest.approx([3, 4.5, 34.5], rel=1e-12)


@pytest.mark.parametrize(
    ("estate", "expected"), [(100, [100 / 3] * 3), (200, [50, 75, 75]), (300, [50, 100, 150])]
)
def test_the_three_estates_of_the_talmud(estate, expected):
    # Aumann & Maschler 1985, J. Econ. Theory 36:195, claims 100, 200, 300.
    assert -nucleolus(bankruptcy([100, 200, 300], estate)) == pytest.approx(expected, rel=1e-12)


def test_water_for_skane():
    # Printed in the journal, from memory, ±0.005. The working paper's Table 7 (read) has A, H, K, L alike but
    # M 18.60 and T 19.21: Kohlberg's criterion refuses those.
    printed = [20.35, 12.06, 5.00, 8.61, 18.32, 19.49]
    found = nucleolus(skane())
    assert found == pytest.approx(printed, abs=0.0051)
    assert objects_to(skane(), found) < 1e-6
    working_paper = found + np.array([0, 0, 0, 0, 0.28, -0.28])
    assert objects_to(skane(), working_paper) > 0.1


def test_three_traders_whose_core_is_empty_pay_alike():
    # Reference values of the project, §7: 30 kg each, a carton of 60 kg costs 1.
    assert nucleolus(lots([30, 30, 30], capacity=60, cost=1)) == pytest.approx([2 / 3] * 3, rel=1e-12)


def test_who_has_the_only_right_glove_gets_all():
    # By hand: two left gloves, one right; the core is that one point.
    assert -nucleolus(glove(2, 1)) == pytest.approx([0, 0, 1], abs=1e-12)


@FEW
@given(st.lists(st.integers(0, 20), min_size=2, max_size=6), st.integers(0, 120))
def test_the_nucleolus_of_a_bankruptcy_is_the_contested_garment(claims, estate):
    estate = min(estate, sum(claims))
    awards = -nucleolus(bankruptcy(claims, estate))
    assert awards == pytest.approx(contested(claims, estate=estate), abs=1e-8)


def test_a_bankruptcy_of_twelve_with_many_ties():
    claims = np.array([10, 10, 10, 20, 20, 30, 30, 30, 30, 50, 80, 80.0])
    for estate in (60, 200, 330):
        awards = -nucleolus(bankruptcy(claims, estate))
        assert awards == pytest.approx(contested(claims, estate=estate), rel=1e-9)


def littlechild(costs):
    """Nucleolus of an airport, costs rising: Littlechild 1974, Int. J. Game Theory 3:21 (from memory)."""
    shares = []
    for k in range(len(costs) - 1):
        left = [(costs[j] - sum(shares)) / (j - k + 2) for j in range(k, len(costs) - 1)]
        shares.append(min(left))
    return [*shares, costs[-1] - sum(shares)]


@FEW
@given(st.lists(st.integers(1, 40), min_size=2, max_size=7))
def test_the_nucleolus_of_an_airport_is_littlechilds(costs):
    rising = sorted(costs)
    assert nucleolus(airport(rising)) == pytest.approx(littlechild(rising), abs=1e-8)


def test_an_airport_of_twelve_in_any_order():
    costs = np.array([5, 90, 12, 12, 44, 44, 44, 70, 31, 5, 12, 90.0])
    order = np.argsort(costs, kind="stable")
    assert nucleolus(airport(costs))[order] == pytest.approx(littlechild(sorted(costs)), rel=1e-9)


def random_game(rng, kind, players):
    """Ties, wide ranges, cartons, switches that cost or cost nothing, and covers."""
    size = 2**players
    game = {
        "ties": lambda: rng.integers(0, 6, size).astype(float),
        "wide": lambda: rng.uniform(0, 1e6, size),
        "cartons": lambda: lots(rng.integers(1, 60, players), capacity=60, cost=7000),
        "switches": lambda: rng.integers(0, 2, size) * 1e9,
        "cover": lambda: subadditive_cover(np.r_[0, rng.integers(1, 30, size - 1)]),
    }[kind]()
    game[0] = 0
    return game


@pytest.mark.parametrize("kind", ["ties", "wide", "cartons", "switches", "cover"])
def test_kohlbergs_criterion_holds(kind):
    rng = np.random.default_rng(1971)
    for _ in range(30):
        game = random_game(rng, kind, int(rng.integers(2, 7)))
        scale = np.abs(game).max() or 1.0
        shares = nucleolus(game)
        alone = game[2 ** np.arange(shares.size)]
        assert shares.sum() == pytest.approx(game[-1], abs=1e-9 * scale)
        assert objects_to(game, shares) < 1e-6
        if alone.sum() >= game[-1]:
            assert (shares <= alone + 1e-9 * scale).all()
        if not core_is_empty(game):
            assert objection(game, shares).coalition == 0


def test_kohlbergs_criterion_refuses_a_split_that_is_only_stable():
    game = airport([6, 12, 42])
    assert objection(game, [2, 5, 35]).coalition == 0
    assert objects_to(game, [2, 5, 35]) > 0.1
    assert objects_to(game, [3, 4.5, 34.5]) < 1e-9


def test_where_alone_is_cheaper_somebody_pays_more_than_alone():
    # By hand: two alone pay 4 and 6, together 20: what sharing costs more is halved.
    assert nucleolus([0, 4, 6, 20]) == pytest.approx([9, 11], rel=1e-12)


def test_what_each_adds_by_himself_only_is_what_he_pays():
    prices = np.array([3.0, 0.0, 7.5, 2.0])
    assert nucleolus(coalition_sums(prices)) == pytest.approx(prices, abs=1e-12)


@pytest.mark.parametrize("factor", [1e-6, 1, 1e9])
def test_the_unit_of_money_and_what_each_pays_besides_do_not_matter(factor):
    rng = np.random.default_rng(7)
    game, besides = np.r_[0, rng.integers(10, 60, 31)].astype(float), rng.uniform(0, 50, 5)
    moved = nucleolus(factor * (game + coalition_sums(besides)))
    assert moved == pytest.approx(factor * (nucleolus(game) + besides), rel=1e-8, abs=1e-7 * factor)


def test_alike_players_pay_alike_and_order_does_not_matter():
    game = lots([20, 20, 35, 45], capacity=60, cost=9000)
    found = nucleolus(game)
    assert found[0] == pytest.approx(found[1], rel=1e-9)
    turned = nucleolus(lots([45, 35, 20, 20], capacity=60, cost=9000))
    assert turned == pytest.approx(found[::-1], rel=1e-9)


@pytest.mark.parametrize(("game", "expected"), [([0, 17], [17]), ([0, 0], [0]), ([0, 0, 0, 0], [0, 0])])
def test_one_player_pays_all_and_nothing_is_nothing(game, expected):
    assert nucleolus(game).tolist() == expected


def test_more_than_twelve_players_are_refused():
    with pytest.raises(
        ValueError, match=r"costs must be of all coalitions of 1 to 12 players, not \(8192,\)"
    ):
        nucleolus(np.zeros(2**13))


@pytest.mark.parametrize(
    ("costs", "message"),
    [
        ([0, 1, np.nan, 2], "costs must be finite, not nan"),
        ([0, 1, np.inf, 2], "costs must be finite, not inf"),
        ([1, 1, 1, 2], r"costs must begin with 0 for nobody, not 1\.0"),
        ([0, 1, 2], r"costs must be of all coalitions of 1 to 12 players, not \(3,\)"),
        ([], r"costs must be of all coalitions of 1 to 12 players, not \(0,\)"),
    ],
)
def test_a_table_that_is_none_is_refused(costs, message):
    with pytest.raises(ValueError, match=message):
        nucleolus(costs)
