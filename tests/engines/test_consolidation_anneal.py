from collections import Counter
from fractions import Fraction

import pytest

from coop.engines.consolidation_anneal_kernel import STAYS, fare_of
from coop.engines.consolidation_bill import consignment_cost, rounding_of
from coop.engines.consolidation_frame import Frame
from coop.engines.consolidation_rest import Rest
from tests.engines.consolidation_annealed import Annealed, some_days
from tests.engines.consolidation_cases import billed, breaches, least_cost, small_day
from tests.engines.consolidation_planning import planning_day


def pieces_of(offer, cartons, grams):
    """FarePieces and the own costs of an offer, added up exactly."""
    mass, pieces = Fraction(grams, 1000), offer.pieces
    gross = offer.tare * cartons + offer.gross_per_kilogram * mass
    piece = next(piece for piece in pieces.pieces if piece.from_mass <= gross < piece.until_mass)
    cost = offer.consignment_cost + (offer.carton_cost + pieces.per_carton) * cartons
    cost += offer.kilogram_cost * mass + piece.fixed + piece.per_kilogram * gross
    for floor in pieces.floors:
        cost += max(floor.least, floor.per_carton * cartons, floor.per_kilogram * gross)
    for each in pieces.whole_kilograms:
        counted = -(-max(gross, each.by_volume * cartons) // 1)
        cost += max(each.least, each.rate * counted)
    return cost


@pytest.mark.parametrize("first", [0, 20, 40])
def test_a_fare_of_annealing_is_that_of_the_pieces_and_of_the_tariff(first):
    for found in some_days(first, first + 20):
        fares = found.annealing._fares()
        for number, offer in enumerate(found.day.offers):
            capacity = found.day.rooms[number].capacity
            for cartons in (1, 2, 5):
                for grams in {1, 17_250, 20_000, capacity // 2, capacity * cartons}:
                    mine = fare_of(fares, number, cartons, grams)
                    assert mine == pytest.approx(float(pieces_of(offer, cartons, grams)), rel=1e-12)
                    true = consignment_cost(offer, cartons=cartons, grams=grams)
                    assert abs(mine - true) <= rounding_of(offer) + 1e-6
        assert fare_of(fares, 0, 0, 0) == 0


@pytest.mark.parametrize("first", [0, 15, 30])
def test_every_annealed_plan_keeps_every_rule_and_costs_no_more_than_the_first(first):
    for found in some_days(first, first + 15):
        cartons = found.better()
        told = found.plan(cartons)
        assert breaches(found.given, told) == []
        assert told.bill == billed(found.given, told)
        assert found.cost(cartons) <= found.cost(found.start) + 2 * found.rounding


def test_annealing_finds_the_best_of_nearly_every_small_day_and_never_less():
    reached = Counter()
    for found in (Annealed(small_day(seed)) for seed in range(400, 500)):
        if found.annealing is None:
            continue
        rows = enumerate(found.day.classes)
        worth = {found.day.lots[n].key: found.day.worth[row] for row, group in rows for n in group}
        best, cost = least_cost(found.given, worth), found.cost(found.better(()))
        assert best <= cost
        reached[cost <= best + found.rounding] += 1
    assert reached.total() > 30
    assert reached[True] >= 0.9 * reached.total()


def test_the_same_luck_gives_the_same_plan_and_other_luck_another():
    found = Annealed(planning_day(3, lots=30, departures=8))
    assert found.better(seed=5) == found.better(seed=5)
    assert len({found.better(seed=seed) for seed in range(4)}) > 1


def test_time_that_is_up_leaves_the_plan_as_it_was():
    for found in some_days(0, 8):
        again = found.better(is_late=lambda: True)
        assert Counter(again) == Counter(found.start)


def test_in_a_frame_only_its_cartons_are_used_and_all_lots_are_accounted_for():
    for found in some_days(60, 70):
        offers = tuple(carton.offer for carton in found.start)
        if not offers:
            continue
        frame = Frame(offers, (None,) * len(found.day.offers), frozenset(), 0)
        cartons = found.framed(frame, ())
        assert not Counter(carton.offer for carton in cartons) - Counter(offers)
        assert breaches(found.given, found.plan(cartons)) == []
        rest = Rest(found.day, cartons)
        assert (rest.lots >= 0).all()
        assert (rest.grams >= 0).all()


def test_a_border_costs_a_share_of_the_next_step_and_then_as_much_a_kilogram_as_what_stays():
    found = Annealed(planning_day(0, lots=6, departures=3))
    number = next(n for n, offer in enumerate(found.day.offers) if len(offer.pieces.pieces) > 1)
    offer = found.day.offers[number]
    first, second = offer.pieces.pieces[:2]
    borders = [None] * len(found.day.offers)
    borders[number] = first.until_mass
    fares = found.annealing._fares(borders, 0.5)
    grams = int((first.until_mass - offer.tare) / offer.gross_per_kilogram * 1000)
    before, there, beyond = (fare_of(fares, number, 1, grams + more) for more in (-1, 0, 10_000))
    jump = float(second.fixed - first.fixed)
    kilogram = float(offer.kilogram_cost)
    assert there - before == pytest.approx(jump / 2, abs=2.0)
    assert (beyond - there) / 10 == pytest.approx(2500 * found.price + kilogram, rel=1e-9)


def test_what_leaving_a_lot_costs_is_parted_and_not_changed():
    for found in some_days(0, 10):
        state = found.annealing._state((), 1)
        for lot, row in enumerate(found.annealing.lots):
            left = float(state.worth[lot].sum() * state.lots[lot, STAYS])
            assert left == pytest.approx(float(found.day.worth[row] * found.day.class_mass(row) / 1000))
        assert (state.worth[:, 0] <= 2.5 * found.price * (1 + 1e-12)).all()
        assert (state.worth >= 0).all()
