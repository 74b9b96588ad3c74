"""Which layer may import what: the table of the house, and a walk over the imports that holds it."""

import ast
import sys

from tests.house.tree import files

STANDARD = frozenset(sys.stdlib_module_names)
# A clock, a file, the network, another process, hidden randomness or hidden state.
NOT_FOR_ENGINES = {
    *("time", "sched", "os", "pathlib", "io", "shutil", "tempfile", "glob", "fileinput", "sqlite3", "dbm"),
    *("shelve", "pickle", "socket", "ssl", "select", "selectors", "asyncio", "urllib", "http", "smtplib"),
    *("subprocess", "signal", "random", "secrets", "uuid", "logging", "locale", "importlib", "contextvars"),
}
# The number of cores decides how fast an answer comes, never which.
HARMLESS = {"os.cpu_count"}
# What each layer may import besides the standard library; a longer name is stricter than a shorter one.
MAY_IMPORT = {
    "coop.errors": set(),
    "coop.engines": {"numpy", "scipy", "highspy", "numba", "coop.engines"},
    "coop.models": {"django", "knox", "simple_history", "coop.models"},
    "coop.migrations": {"django", "simple_history", "coop.migrations"},
    "coop.selectors": {
        "django",
        "knox",
        "numpy",
        "coop.models",
        "coop.engines",
        "coop.errors",
        "coop.selectors",
    },
    "coop.services": {
        "django",
        "numpy",
        "coop.models",
        "coop.engines",
        "coop.errors",
        "coop.selectors",
        "coop.services",
        # people: tokens, and limits on tries
        "knox",
        "axes",
    },
    "api": {
        "rest_framework",
        "django_filters",
        "segno",
        "drf_spectacular",
        "icalendar",
        "babel",
        "django.conf",
        "django.core",
        "django.forms",
        "django.http",
        "django.urls",
        "django.template",
        "django.utils",
        "coop.selectors",
        "coop.services",
        "coop.errors",
        "api",
    },
}


def within(module, names):
    return any(module == name or module.startswith(f"{name}.") for name in names)


def module_name(path, root):
    parts = path.relative_to(root).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def imported(tree, package):
    """(line, full module name) of every import, those inside functions too."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from ((node.lineno, alias.name) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            above = package[: len(package) - node.level + 1] if node.level else ()
            base = ".".join([*above, *([node.module] if node.module else [])])
            # `from coop import models` reaches coop.models: a bare package says too little.
            whole = base in ("coop", "django", "os", "")
            names = [f"{base}.{alias.name}".lstrip(".") for alias in node.names] if whole else [base]
            yield from ((node.lineno, name) for name in names)


def layer_of(module):
    return next((layer for layer in MAY_IMPORT if within(module, [layer])), None)


def is_allowed(module, layer):
    first = module.split(".")[0]
    if first in STANDARD:
        return layer != "coop.engines" or first not in NOT_FOR_ENGINES or module in HARMLESS
    return within(module, MAY_IMPORT[layer])


def forbidden_imports(root):
    """Every import in coop/ and api/ that goes up, sideways or outside of what its layer may use."""
    found = []
    for path in [*files(root / "coop", ".py"), *files(root / "api", ".py")]:
        module = module_name(path, root)
        layer = layer_of(module)
        if layer is None:
            continue
        package = module.split(".") if path.name == "__init__.py" else module.split(".")[:-1]
        tree = ast.parse(path.read_text(encoding="utf-8"))
        found += [
            f"{path.relative_to(root)}:{line} {layer} may not import {name}"
            for line, name in imported(tree, package)
            if not is_allowed(name, layer)
        ]
    return found
