"""The form of an engine function's docstring: what, one line an argument, Returns, Raises, Source."""

import ast
import re

from tests.house.tree import files

LEAST_LINES, MOST_LINES = 6, 14
# numba's own, and the name under which the engines share one set of its options.
COMPILERS = ("njit", "jit", "vectorize", "compiled")


def arguments(function):
    given = function.args
    named = [*given.posonlyargs, *given.args, *given.kwonlyargs, given.vararg, given.kwarg]
    return [argument.arg for argument in named if argument is not None]


def first_line(lines, pattern):
    return next((number for number, line in enumerate(lines) if re.match(pattern, line)), None)


def is_compiled(function):
    """Whether numba compiles it: such a kernel is the inside of an engine and says one sentence."""
    calls = [mark.func if isinstance(mark, ast.Call) else mark for mark in function.decorator_list]
    return any(getattr(call, "attr", getattr(call, "id", "")) in COMPILERS for call in calls)


def faults(function):
    """Everything that one docstring lacks."""
    text = ast.get_docstring(function)
    if not text:
        return ["has no docstring"]
    if is_compiled(function):
        return []
    lines = text.splitlines()
    marks = {
        **{f"a line for {name}": first_line(lines, rf"{name}\s+\S+\s+\S+") for name in arguments(function)},
        "Returns": first_line(lines, "Returns "),
        "Raises": first_line(lines, "Raises "),
        "Source": first_line(lines, "(Source|No source): ?\\S"),
    }
    found = [f"lacks {mark}" for mark, number in marks.items() if number is None]
    closing = [marks[mark] for mark in ("Returns", "Raises", "Source")]
    if not found and [*sorted(closing)] != closing:
        found.append("has Returns, Raises, Source in another order")
    if not found and any(number > closing[0] for mark, number in marks.items() if mark.startswith("a line")):
        found.append("has arguments after Returns")
    # Blank lines count for the least, not for the most: they are what keeps a long one readable.
    if len(lines) < LEAST_LINES or sum(bool(line.strip()) for line in lines) > MOST_LINES:
        found.append(f"is not {LEAST_LINES} to {MOST_LINES} lines long")
    return found


def public_functions(path):
    for node in ast.parse(path.read_text(encoding="utf-8")).body:
        if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
            yield node


def docstring_faults(root):
    """Every fault in the docstrings of the public functions of the engines."""
    return [
        f"{path.name} {function.name} {fault}"
        for path in files(root / "coop" / "engines", ".py")
        for function in public_functions(path)
        for fault in faults(function)
    ]
