"""What is long travels short: tables by their columns, and rows of numbers as their steps.

A curve that bends slowly is then a few small numbers, and a table names each of its columns once.
"""

FEWEST = 8
SCALES = (1, 10, 100, 1000)
"""What the interface rounds to: at most three decimals."""
BY, STEPS, COLUMNS = "_by", "_steps", "_columns"


def shortened(value):
    """The same value; a long list of numbers as {_by, _steps}, one of objects with equal keys as {_columns}.

    Numbers are the sums of the steps, divided by `_by`; columns are lists, or shortened themselves.
    """
    if isinstance(value, dict):
        return {name: shortened(one) for name, one in value.items()}
    if not isinstance(value, list):
        return value
    if len(value) >= FEWEST and all(map(is_number, value)):
        scale = scale_of(value)
        return value if scale is None else steps_of(value, scale)
    return columns_of(value) if is_table(value) else [shortened(one) for one in value]


def is_number(value):
    return type(value) in (int, float)


def is_table(rows):
    first = rows[0] if len(rows) >= FEWEST else None
    return isinstance(first, dict) and all(
        isinstance(row, dict) and row.keys() == first.keys() for row in rows
    )


def scale_of(numbers):
    """By what all of them are whole, and come out again exactly; None where that takes more decimals."""
    return next((by for by in SCALES if all(round(one * by) / by == one for one in numbers)), None)


def steps_of(numbers, by):
    whole = [round(one * by) for one in numbers]
    return {BY: by, STEPS: [after - before for before, after in zip([0, *whole], whole, strict=False)]}


def columns_of(rows):
    return {COLUMNS: {name: shortened([row[name] for row in rows]) for name in rows[0]}}
