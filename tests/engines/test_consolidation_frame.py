from fractions import Fraction
from itertools import pairwise

import numpy as np
import pytest

from coop.engines.consolidation import Lot
from coop.engines.consolidation_columns import Filled, Relaxation
from coop.engines.consolidation_dive import Dive
from coop.engines.consolidation_frame import Frame, frame_of, lacking
from coop.engines.consolidation_outline import outline
from coop.engines.tariff import ByStep, Tariff
from tests.engines.consolidation_annealed import Annealed
from tests.engines.consolidation_cases import DAY, Day, an_offer
from tests.engines.consolidation_planning import planning_day


def two_lots(**offer):
    """60 kg and, divisible, 90 kg."""
    lots = [Lot(key="a", mass=60), Lot(key="b", mass=90, may_split=True, least_part=10)]
    return Annealed(Day(lots, [an_offer(lots, **offer)], {"d": 3})).day


def filled(whole, kilograms):
    return Filled(0, (whole, int(kilograms > 0)), (0, max(0, kilograms - 10) * 1000))


@pytest.mark.parametrize(
    ("cartons", "kilograms"),
    [
        ((), 150),
        ((filled(1, 0),), 90),
        ((filled(1, 40),), 50),
        ((filled(1, 40), filled(0, 50)), 0),
    ],
)
def test_what_stays_finds_no_room(cartons, kilograms):
    assert lacking(Frame((0, 0), (None,), frozenset(), 0), two_lots(), cartons) == kilograms


def test_what_the_outline_leaves_anyway_does_not_count():
    frame = Frame((0,), (None,), frozenset(), 50_000)
    assert lacking(frame, two_lots(), (filled(1, 40),)) == 0
    assert lacking(frame, two_lots(), (filled(1, 30),)) == 10


def test_a_consignment_lacks_what_it_weighs_from_the_end_of_its_step_on():
    day = two_lots(tare=10)
    cartons = (filled(1, 40), filled(0, 50))
    # 150 kg of fish and two cartons of 10 kg; at the border itself the next step begins.
    for border, kilograms in ((171, 0), (Fraction(170_001, 1000), 0), (170, 0.001), (165, 5.001)):
        frame = Frame((0, 0), (Fraction(border),), frozenset(), 0)
        assert lacking(frame, day, cartons) == pytest.approx(kilograms, abs=1e-12)


def outlined(found, spare=0.0):
    relaxation = Relaxation(found.day, clock=lambda: 0.0, until=1.0)
    relaxation.converge()
    return relaxation, outline(relaxation, seconds=30, gap=0.001, spare=spare)


def test_a_frame_holds_the_cartons_of_its_outline_and_the_end_of_each_chosen_step():
    steps = Tariff(rules=(ByStep(steps=((0, 1000), (120, 3000), (400, 9000))),), valid_from=DAY)
    lots = [Lot(key=number, mass=50) for number in range(4)]
    found = Annealed(Day(lots, [an_offer(lots, tariff=steps)], {"d": 5}))
    relaxation, drawn = outlined(found)
    frame = frame_of(relaxation.rows, found.day, drawn.values)
    # 200 kg in two cartons of 100: the second step, which ends at 400 kg.
    assert (frame.offers, frame.borders, frame.stays) == ((0, 0), (400,), 0)
    assert len(frame.steps) == 2


def test_what_an_outline_leaves_is_counted_in_grams():
    lots = [Lot(key=number, mass=50, value=0 if number else None) for number in range(3)]
    found = Annealed(Day(lots, [an_offer(lots)], {"d": 5}))
    relaxation, drawn = outlined(found)
    frame = frame_of(relaxation.rows, found.day, drawn.values)
    assert len(frame.offers) == 1
    carried = 150_000 - frame.stays
    assert 50_000 <= carried <= 100_000


@pytest.mark.parametrize("seed", [0, 1])
def test_what_is_spared_stays_free_in_cartons_and_below_steps(seed):
    found = Annealed(planning_day(seed, lots=15, departures=6))
    for spare in (0.02, 0.1):
        relaxation, drawn = outlined(found, spare)
        frame, rows = frame_of(relaxation.rows, found.day, drawn.values), relaxation.rows
        capacity = sum(found.day.rooms[offer].capacity for offer in frame.offers)
        lots = sum(found.day.class_mass(row) * len(group) for row, group in enumerate(found.day.classes))
        assert lots - frame.stays <= (1 - spare) * capacity + 1
        for steps in rows.steps:
            for step in steps[:-1]:
                if drawn.values[step.column] > 0.5:
                    # The column after a step's choice is found by its row: what is shipped in this step.
                    (mass,) = masses_in(rows.programme, step.row, step.column, drawn.values)
                    assert mass <= (1 - spare) * float(step.end) + 1e-4


def test_an_outline_that_spares_fills_no_step_to_its_border():
    steps = Tariff(rules=(ByStep(steps=((0, 1000), (205, 3000), (400, 9000))),), valid_from=DAY)
    lots = [Lot(key=number, mass=50) for number in range(4)]
    found = Annealed(Day(lots, [an_offer(lots, tariff=steps)], {"d": 5}))
    # 200 kg lie below 205 kg and below 98 hundredths of it, but not below nine tenths.
    for spare, fits in ((0.0, True), (0.02, True), (0.1, False)):
        relaxation, drawn = outlined(found, spare)
        frame = frame_of(relaxation.rows, found.day, drawn.values)
        assert ((frame.borders, frame.stays) == ((205,), 0)) is fits


def masses_in(programme, row, but, values):
    """Values of the columns that touch a row, one excepted."""
    for number, column in enumerate(programme.columns):
        if number != but and row in dict(column.entries):
            yield values[number]


def test_sparing_never_makes_an_outline_cheaper():
    found = Annealed(planning_day(2, lots=15, departures=6))
    costs = [outlined(found, spare)[1] for spare in (0.0, 0.03, 0.1)]
    assert all(np.isfinite(each.cost) for each in costs)
    for one, other in pairwise(costs):
        assert one.bound <= other.cost


def test_columns_held_for_a_while_are_free_again_afterwards():
    found = Annealed(planning_day(1, lots=12, departures=5))
    relaxation, drawn = outlined(found)
    before = relaxation.columns.copy()
    with relaxation.held(drawn.values):
        whole = [column for columns in relaxation.rows.choices for column in columns]
        assert (relaxation.columns[:, whole] == np.round(drawn.values[whole])).all()
        Dive(relaxation)
    assert (relaxation.columns == before).all()
