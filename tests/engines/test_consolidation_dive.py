from collections import Counter

import numpy as np
import pytest

from coop.engines.consolidation_columns import Relaxation
from coop.engines.consolidation_dive import Dive
from coop.engines.consolidation_rest import Rest
from tests.engines.consolidation_annealed import Annealed
from tests.engines.consolidation_planning import planning_day


@pytest.fixture
def relaxation():
    found = Annealed(planning_day(1, lots=20, departures=6))
    relaxed = Relaxation(found.day, clock=lambda: 0.0, until=1.0)
    relaxed.converge()
    return relaxed


def test_a_dive_takes_nothing_that_is_not_there(relaxation):
    rest = Rest(relaxation.day, Dive(relaxation).cartons)
    assert (rest.lots >= 0).all()
    assert (rest.grams >= 0).all()


def test_a_dive_leaves_of_a_divisible_lot_nothing_or_a_part(relaxation):
    rest = Rest(relaxation.day, Dive(relaxation).cartons)
    over = rest.grams[rest.grams > 0]
    assert (over >= rest.mass[rest.grams > 0]).all()
    assert rest.divisible.any()


def test_a_dive_leaves_the_relaxation_as_it_was(relaxation):
    before, reached = relaxation.columns.copy(), relaxation.highs.getObjectiveValue()
    Dive(relaxation)
    assert (relaxation.columns == before).all()
    relaxation.converge()
    assert relaxation.highs.getObjectiveValue() == pytest.approx(reached, rel=1e-6)


def test_the_same_dive_ends_alike(relaxation):
    assert Counter(Dive(relaxation).cartons) == Counter(Dive(relaxation).cartons)


def test_a_carton_after_which_nothing_obeys_is_taken_back(relaxation):
    # All that is there must travel: each lot that a dive leaves costs as much as ten of the dearest ways.
    left = np.array(relaxation.rows.left)
    for column in left:
        relaxation.bound_column(int(column), 0.0, 0.0)
    assert relaxation.run() is not None
    cartons = Dive(relaxation).cartons
    assert cartons
    assert (Rest(relaxation.day, cartons).lots >= 0).all()
