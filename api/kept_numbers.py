"""Long rows of numbers travel as their steps: a curve that bends slowly is then a few small numbers."""

FEWEST = 8
SCALES = (1, 10, 100, 1000)
"""What the interface rounds to: at most three decimals."""
BY, STEPS = "_by", "_steps"


def in_steps(value):
    """The same value with each long list of numbers as {_by, _steps}: sums of steps, divided by `_by`."""
    if isinstance(value, dict):
        return {name: in_steps(one) for name, one in value.items()}
    if not isinstance(value, list):
        return value
    scale = scale_of(value) if len(value) >= FEWEST and all(map(is_number, value)) else None
    return [in_steps(one) for one in value] if scale is None else steps_of(value, scale)


def is_number(value):
    return type(value) in (int, float)


def scale_of(numbers):
    """By what all of them are whole, and come out again exactly; None where that takes more decimals."""
    return next((by for by in SCALES if all(round(one * by) / by == one for one in numbers)), None)


def steps_of(numbers, by):
    whole = [round(one * by) for one in numbers]
    return {BY: by, STEPS: [after - before for before, after in zip([0, *whole], whole, strict=False)]}
