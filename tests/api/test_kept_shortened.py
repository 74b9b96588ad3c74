import json

import pytest
from hypothesis import given
from hypothesis import strategies as some

from api.kept_shortened import shortened

ROUNDED = some.builds(round, some.floats(-1e5, 1e5), some.integers(0, 3))
NUMBERS = some.lists(ROUNDED | some.integers(-(10**7), 10**7), max_size=40)
TABLES = some.lists(
    some.fixed_dictionaries({"id": some.text(max_size=3), "kg": ROUNDED, "curve": NUMBERS}), max_size=12
)
ANSWERS = some.recursive(
    some.none() | some.booleans() | some.text(max_size=3) | NUMBERS | TABLES,
    lambda inner: some.lists(inner, max_size=9) | some.dictionaries(some.text(max_size=3), inner, max_size=3),
    max_leaves=8,
)


def lengthened(value):
    """As the description says: sums of the steps, divided by `_by`; and columns side by side."""
    if isinstance(value, dict) and "_columns" in value:
        columns = lengthened(value["_columns"])
        return [dict(zip(columns, row, strict=True)) for row in zip(*columns.values(), strict=True)]
    if isinstance(value, dict) and "_steps" in value:
        steps, by = value["_steps"], value["_by"]
        sums = [sum(steps[: place + 1]) for place in range(len(steps))]
        # As in JavaScript, whose whole numbers stay whole.
        return sums if by == 1 else [one / by for one in sums]
    if isinstance(value, dict):
        return {name: lengthened(one) for name, one in value.items()}
    return [lengthened(one) for one in value] if isinstance(value, list) else value


@given(ANSWERS)
def test_what_went_in_comes_out_to_the_last_digit(answer):
    there = json.loads(json.dumps(shortened(answer)))
    assert lengthened(there) == answer


def test_a_curve_is_a_few_small_numbers():
    assert shortened([-18.0, -18.0, -17.98, -17.92, -17.85, -17.75, -17.65, -17.54]) == {
        "_by": 100,
        "_steps": [-1800, 0, 2, 6, 7, 10, 10, 11],
    }


def test_a_table_names_its_columns_once():
    rows = [{"id": f"r{n}", "kg": 5.0 * n} for n in range(8)]
    columns = {"id": [f"r{n}" for n in range(8)], "kg": {"_by": 1, "_steps": [0] + [5] * 7}}
    assert shortened({"ladder": rows}) == {"ladder": {"_columns": columns}}
    assert shortened(rows[:7]) == rows[:7]
    assert shortened([*rows, {"id": "r8"}]) == [*rows, {"id": "r8"}]


@pytest.mark.parametrize(
    "numbers",
    [[1, 2, 3], [0.1234] * 9, [True] * 9, [1.0] * 8 + [None], ["1"] * 9],
    ids=["few", "four decimals", "truths", "a gap", "words"],
)
def test_other_lists_travel_as_they_are(numbers):
    assert shortened(numbers) == numbers
