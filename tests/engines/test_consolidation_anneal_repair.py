from coop.engines import consolidation_anneal_kernel as kernel
from coop.engines.consolidation import Lot
from coop.engines.consolidation_anneal_repair import repaired, write
from tests.engines.consolidation_annealed import Annealed
from tests.engines.consolidation_cases import Day, an_offer
from tests.engines.consolidation_walk import Walk


def three_lots(*, may_split):
    """Whole lots of 60 and 30 kg in cartons of their own, beside the second one of 50 kg."""
    lots = [Lot(key="a", mass=60), Lot(key="b", mass=30), Lot(key="c", mass=50, may_split=may_split)]
    walk = Walk(Annealed(Day(lots, [an_offer(lots)], {"d": 5})))
    for carton in range(len(walk.state.cartons)):
        for lot in range(3):
            grams = int(walk.state.amount[carton, lot])
            if grams:
                kernel.put(*walk.tables, lot, carton, -grams)
                kernel.put(*walk.tables, lot, -1, grams)
    for lot, carton, grams in ((0, 0, 60_000), (1, 1, 30_000), (2, 1, 50_000)):
        kernel.put(*walk.tables, lot, -1, -grams)
        kernel.put(*walk.tables, lot, carton, grams)
    return walk


def tried(walk):
    """The rows of a move of the first lot into the second carton, repaired."""
    write(walk.moves, 0, 0, 0, 1, 60_000)
    state = walk.state
    count = repaired(
        walk.luck, state.lots, state.cartons, state.offers, state.amount, state.inside, state.carries,
        walk.moves, 1,
    )  # fmt: skip
    return walk.moves[:count].tolist()


def test_what_overfills_a_carton_is_poured_out_of_a_divisible_lot():
    # 60 and 30 and 50 kg are 40 more than a carton takes, and go where the first lot came from.
    seen = [tried(three_lots_with(seed)) for seed in range(1, 40)]
    assert [[0, 0, 1, 60_000], [2, 1, 0, 40_000]] in seen
    assert all(len(rows) in (0, 2) for rows in seen)


def three_lots_with(seed):
    walk = three_lots(may_split=True)
    walk.luck[0] = seed * 7919
    for _ in range(20):
        kernel.chance(walk.luck)
    return walk


def test_without_a_divisible_lot_the_move_comes_to_nothing():
    assert tried(three_lots(may_split=False)) == []


def test_a_move_that_overfills_nothing_stays_as_it_is():
    walk = three_lots(may_split=True)
    write(walk.moves, 0, 1, 1, 0, 30_000)
    state = walk.state
    count = repaired(
        walk.luck, state.lots, state.cartons, state.offers, state.amount, state.inside, state.carries,
        walk.moves, 1,
    )  # fmt: skip
    assert walk.moves[:count].tolist() == [[1, 1, 0, 30_000]]
