import numpy as np
import pytest

from coop.engines.linear_programme import Programme, dual_bound, solver


def two_products():
    """Least cost of 2x + 3y with x + y ≥ 4 and x ≤ 3: x = 3, y = 1, cost 9; by hand."""
    programme = Programme()
    enough = programme.row(4, np.inf)
    programme.column(2, (enough, 1), upper=3)
    programme.column(3, (enough, 1), upper=10)
    return programme


def bound(programme, duals):
    matrix = np.zeros((len(programme.rows), len(programme.columns)))
    for number, column in enumerate(programme.columns):
        for row, value in column.entries:
            matrix[row, number] = value
    return dual_bound(
        np.array(duals, float),
        matrix=matrix,
        cost=np.array([column.cost for column in programme.columns]),
        columns=np.array([(column.lower, column.upper) for column in programme.columns]).T,
        rows=np.array(programme.rows, float).T,
    )


def test_a_programme_is_solved():
    highs = solver(two_products(), whole=False)
    highs.run()
    assert highs.getObjectiveValue() == pytest.approx(9)


def test_prices_of_the_optimum_prove_it_and_any_others_prove_less():
    programme = two_products()
    highs = solver(programme, whole=False)
    highs.run()
    assert bound(programme, highs.getSolution().row_dual) == pytest.approx(9)
    rng = np.random.default_rng(1)
    assert all(bound(programme, [price]) <= 9 + 1e-9 for price in rng.uniform(-5, 8, 200))


def test_whole_columns_are_whole():
    programme = Programme()
    row = programme.row(5, np.inf)
    programme.column(1, (row, 2), upper=9, whole=True)
    values = []
    for whole in (False, True):
        highs = solver(programme, whole=whole)
        highs.run()
        values.append(highs.getObjectiveValue())
    assert values == pytest.approx([2.5, 3])


def test_entries_of_one_row_add_up_and_a_copy_is_another():
    programme = Programme()
    row = programme.row(0, 1)
    programme.column(1, (row, 2), (row, 3))
    other = programme.copy()
    other.row(0, 2)
    assert programme.columns[0].entries == ((row, 5.0),)
    assert (len(programme.rows), len(other.rows)) == (1, 2)
