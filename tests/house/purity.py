"""What an import does not show: engines that look outside their arguments, selectors that write."""

import ast

from tests.house.tree import files

OUTSIDE = {"open", "input", "print", "exec", "eval", "__import__"}
CLOCKS = {"now", "utcnow", "today"}
SEEDED = {"default_rng", "Generator", "PCG64", "SeedSequence"}
WRITES = {
    "save",
    "create",
    "delete",
    "bulk_create",
    "bulk_update",
    "get_or_create",
    "update_or_create",
    "full_clean",
}


def nodes(folder, root):
    for path in files(folder, ".py") if folder.is_dir() else ():
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            yield path.relative_to(root), node


def called(node):
    """The bare name that a call calls, with whether it is called on something."""
    if not isinstance(node, ast.Call):
        return None, False
    if isinstance(node.func, ast.Attribute):
        return node.func.attr, True
    return getattr(node.func, "id", None), False


def hidden_draw(node):
    """Whether `np.random.<name>` draws from the generator that the whole process shares."""
    inner = node.value if isinstance(node, ast.Attribute) else None
    return isinstance(inner, ast.Attribute) and inner.attr == "random" and node.attr not in SEEDED


def looks_outside(node):
    name, on_something = called(node)
    reads = name in CLOCKS if on_something else name in OUTSIDE
    return reads or hidden_draw(node) or isinstance(node, ast.Global)


def impure_calls(root):
    engines = nodes(root / "coop" / "engines", root)
    return [f"{path}:{node.lineno} looks outside" for path, node in engines if looks_outside(node)]


def writes_in_selectors(root):
    selectors = nodes(root / "coop" / "selectors", root)
    return [f"{path}:{node.lineno} writes" for path, node in selectors if called(node)[0] in WRITES]
