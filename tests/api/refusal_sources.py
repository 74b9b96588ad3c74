"""The files in which words of failures stand, read by `ast`: what each defines, binds, calls and imports."""

import ast
import re
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
HOLE = None
GAP = re.compile(r"\{[^{}]*\}|%\(\w+\)[sdr]")
# Not read: numbers only, the admin, what only whoever keeps the server reads, and words for a calendar.
LEFT_OUT = (
    "coop/engines",
    "coop/migrations",
    "coop/admin",
    "coop/management",
    "coop/environment",
    "coop/settings",
    "coop/services/archive",
    "coop/services/demo_",
    "api/openapi",
    "api/calendar_words",
)


class Source:
    """One file: what it defines and what it imports."""

    def __init__(self, path):
        self.path, self.tree = path, ast.parse(path.read_text(encoding="utf-8"))
        self.name = str(path.relative_to(ROOT))
        self.constants, self.functions, self.classes, self.imports = {}, {}, {}, {}
        self.nodes = tuple(ast.walk(self.tree))
        self.calls = [node for node in self.nodes if isinstance(node, ast.Call)]
        for node in self.nodes:
            for child in ast.iter_child_nodes(node):
                child.parent = node
            if isinstance(node, ast.FunctionDef):
                self.functions.setdefault(node.name, node)
            elif isinstance(node, ast.ClassDef):
                self.classes[node.name] = node
            elif isinstance(node, ast.ImportFrom) and node.module:
                for name in node.names:
                    self.imports[name.asname or name.name] = (node.module, name.name)
        for node in self.tree.body:
            if isinstance(node, ast.Assign):
                for target in node.targets:
                    self.constants |= dict(bound(target, node.value))


def bound(target, value):
    """(name, expression) of each name that an assignment binds."""
    if isinstance(target, ast.Name):
        yield target.id, value
    elif isinstance(target, ast.Tuple):
        parts = value.elts if isinstance(value, ast.Tuple) and len(value.elts) == len(target.elts) else None
        for place, each in enumerate(target.elts):
            yield from bound(each, parts[place] if parts else value)


@cache
def sources():
    paths = [*ROOT.glob("coop/**/*.py"), *ROOT.glob("api/**/*.py")]
    return {
        str(path.relative_to(ROOT)): Source(path)
        for path in sorted(paths)
        if not str(path.relative_to(ROOT)).startswith(LEFT_OUT)
    }


def source_of(module):
    return sources().get(f"{module.replace('.', '/')}.py")


@cache
def bindings(scope):
    """{name: expressions} that are bound anywhere in a function, a loop or a comprehension."""
    found = {}
    for node in ast.walk(scope):
        pairs = ()
        if isinstance(node, ast.Assign):
            pairs = ((target, node.value) for target in node.targets)
        elif isinstance(node, ast.For | ast.comprehension):
            pairs = ((node.target, node.iter),)
        elif isinstance(node, ast.NamedExpr):
            pairs = ((node.target, node.value),)
        for target, value in pairs:
            for name, each in bound(target, value):
                found.setdefault(name, []).append(each)
    return found


def called(node):
    function = node.func
    return function.id if isinstance(function, ast.Name) else getattr(function, "attr", "")


def parameters_of(function):
    arguments = function.args
    names = [one.arg for one in (*arguments.posonlyargs, *arguments.args)]
    bare = names[1:] if names[:1] in (["self"], ["cls"]) else names
    return [*bare, *(one.arg for one in arguments.kwonlyargs)]


def parts_of(text):
    """A text with {name} or %(name)s in it, parted at these."""
    at = 0
    for gap in GAP.finditer(text):
        yield from (text[at : gap.start()], HOLE)
        at = gap.end()
    yield text[at:]


def template(text):
    """Its holes numbered; two beside each other are one."""
    whole = "".join("\0" if piece is HOLE else piece for piece in text)
    count = iter(range(len(text)))
    return re.sub("\0+", lambda _hole: f"{{{next(count)}}}", whole)
