import random
from datetime import date
from fractions import Fraction

import pytest

from coop.engines.consolidation import Lot
from coop.engines.consolidation_bill import consignment_cost, rounding_of
from coop.engines.consolidation_day import reduced
from coop.engines.consolidation_rows import rows_of
from coop.engines.fare_pieces import fare_pieces, pieces_cost
from coop.engines.linear_programme import solver
from coop.engines.tariff import (
    ByStep,
    Consignment,
    PerCarton,
    PerKilogram,
    ReturnOfEmpty,
    Surcharge,
    Tariff,
    fare,
)
from tests.engines.consolidation_cases import DAY, SIDES, a_tariff, an_offer

LENGTH, WIDTH, HEIGHT = SIDES


def carried(cartons, gross_mass, empties=0):
    return Consignment(
        gross_mass=gross_mass,
        cartons=cartons,
        outer_length=LENGTH,
        outer_width=WIDTH,
        outer_height=HEIGHT,
        empties=empties * cartons,
    )


def fare_of(tariff, cartons, gross_mass, empties=0):
    lines = fare(tariff, consignment=carried(cartons, gross_mass, empties), on=DAY)
    return sum(line.amount_minor for line in lines)


@pytest.mark.parametrize("first", range(0, 500, 100))
def test_pieces_are_the_true_tariff_to_the_rounding_of_its_lines(first):
    for seed in range(first, first + 100):
        draw = random.Random(seed)
        tariff, empties = a_tariff(draw), draw.choice((0, 1, Fraction(1, 3)))
        pieces = fare_pieces(tariff, sides=SIDES, on=DAY, empties=empties)
        for _ in range(5):
            cartons, mass = draw.randint(1, 6), Fraction(draw.randint(1, 4000), draw.choice((10, 100)))
            mass = draw.choice((mass, Fraction(5 * draw.randint(1, 12))))
            worked_out = pieces_cost(pieces, cartons=cartons, gross_mass=mass)
            assert abs(fare_of(tariff, cartons, mass, empties) - worked_out) <= pieces.rounding, (seed, mass)


@pytest.mark.parametrize("seed", range(60))
def test_the_rows_of_the_programme_cost_what_the_bill_says(seed):
    # One carton column of known content is fixed; whatever is whole is whole, so only rounding may differ.
    draw = random.Random(seed)
    lots = [Lot(key=n, mass=5 + n) for n in range(4)]
    offer = an_offer(
        lots,
        capacity=50,
        tariff=a_tariff(draw),
        tare=Fraction(25, 2),
        kilogram_cost=draw.randint(0, 99),
        consignment_cost=draw.choice((0, 700)),
        carton_cost=draw.randint(0, 999),
        gross_per_kilogram=draw.choice((1, Fraction(102, 100))),
        empties=Fraction(1, 2),
    )
    rows = rows_of(reduced(lots, [offer], places={"d": 4}, may_not_share=()))
    cartons, grams = draw.randint(1, 4), 1000 * draw.randint(5, 40)
    grams *= cartons
    for row in rows.cover:
        rows.programme.rows[row] = (-float("inf"), float("inf"))
    entries = [(rows.cartons[0], cartons)]
    mass = Fraction(grams, 1000)
    if rows.gross[0] is not None:
        entries.append((rows.gross[0], offer.tare * cartons + offer.gross_per_kilogram * mass))
    held = rows.programme.column(offer.kilogram_cost * mass, *entries, upper=1)
    rows.programme.columns[held] = rows.programme.columns[held]._replace(lower=1.0)
    highs = solver(rows.programme, whole=True, mip_rel_gap=0.0)
    highs.run()
    billed = consignment_cost(offer, cartons=cartons, grams=grams)
    assert abs(highs.getObjectiveValue() - billed) <= float(rounding_of(offer)) + 1e-3


def test_a_step_holds_at_its_border_already():
    tariff = Tariff(rules=(ByStep(steps=((0, 900), (50, 1500))),), valid_from=DAY)
    pieces = fare_pieces(tariff, sides=SIDES, on=DAY)
    assert [pieces_cost(pieces, cartons=1, gross_mass=mass) for mass in (Fraction(4999, 100), 50)] == [
        900,
        1500,
    ]


def test_a_minimum_is_two_lower_bounds_and_no_choice():
    tariff = Tariff(rules=(PerKilogram(amount=10, minimum_mass=30), PerCarton(amount=7)), valid_from=DAY)
    pieces = fare_pieces(tariff, sides=SIDES, on=DAY)
    assert len(pieces.pieces) == 1
    assert [pieces_cost(pieces, cartons=2, gross_mass=mass) for mass in (5, 30, 31)] == [314, 314, 324]


def test_a_share_of_another_month_counts_nothing():
    base = PerCarton(amount=1000)
    tariff = Tariff(rules=(base, Surcharge(share=0.5, months=(3,))), valid_from=DAY)
    assert fare_pieces(tariff, sides=SIDES, on=DAY).per_carton == 1000
    assert fare_pieces(tariff, sides=SIDES, on=date(2027, 3, 1)).per_carton == 1500


def test_boxes_that_stay_cost_no_minimum():
    tariff = Tariff(rules=(PerCarton(amount=10), ReturnOfEmpty(amount=5, minimum_charge=90)), valid_from=DAY)
    costs = [
        pieces_cost(fare_pieces(tariff, sides=SIDES, on=DAY, empties=each), cartons=1, gross_mass=5)
        for each in (0, 1)
    ]
    assert costs == [10, 100]


def test_nothing_is_taken_by_nobody():
    assert pieces_cost(fare_pieces(None, sides=SIDES, on=None), cartons=3, gross_mass=80) == 0


def test_shares_that_take_off_more_than_everything_are_refused():
    rules = (PerCarton(amount=10), Surcharge(share=-0.6), Surcharge(share=-0.6))
    with pytest.raises(ValueError, match="tariff must not take off more than everything"):
        fare_pieces(Tariff(rules=rules, valid_from=DAY), sides=SIDES, on=DAY)
