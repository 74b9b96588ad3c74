"""Every text that can go into a failure, found in the source: templates whose holes are {0}, {1}, …

A text is followed from where it is handed to a failure: through names, constants, branches, functions that
hand on what they are given, and what functions return. Nothing is run.
"""

import ast
import re
from functools import cache
from itertools import product
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
HOLE = None
FAILURES = {
    "Failure", "Invalid", "NotKnown", "NotFound", "NotAllowed", "Conflict", "NoRoom", "Gone", "NotSafe",
    "TooMany", "TooLarge", "PermissionDenied", "ValidationError",
}
SINKS = {**{name: (0,) for name in FAILURES}, "Problem": (2, 3), "invalid": (2, 3), "Unfit": (0, 1)}
NAMED = {"message": 0, "problem": 2, "right": 3}
HANDED_ON = {"problem", "right", "message", "messages"}
ON_CLASSES = {"default_error_messages", "right"}
# Why a carton is not safe: told in refusals, and beside a carton.
REASONS = {"api/parcels_reasons.py", "api/departures_reasons.py"}
# Where in a file something stands, which is no word of a language.
NO_WORDS = {
    "frequencies.txt line {0}, headway_secs",
    "stop_times.txt line {0}, departure_time",
    "{0} line 1",
    "{0} line {1}",
    "calendar.txt or calendar_dates.txt",
}
TYPES = {"bool", "int", "float", "str", "list", "dict"}
GAP = re.compile(r"\{[^{}]*\}|%\(\w+\)[sdr]")


# Not read: numbers only, the admin, what only whoever keeps the server reads, and words for a calendar.
LEFT_OUT = (
    "coop/engines", "coop/migrations", "coop/admin", "coop/management", "coop/environment", "coop/settings",
    "coop/services/archive", "coop/services/demo_", "api/openapi", "api/calendar_words",
)


class Source:
    """One file: what it defines and what it imports."""

    def __init__(self, path):
        self.path, self.tree = path, ast.parse(path.read_text(encoding="utf-8"))
        self.constants, self.functions, self.classes, self.imports = {}, {}, {}, {}
        for node in ast.walk(self.tree):
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

    @property
    def name(self):
        return str(self.path.relative_to(ROOT))


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


class Collector:
    def __init__(self):
        self.texts, self.unseen, self.done = {}, {}, set()
        # Functions that hand a parameter on to a failure, as it is or within a text: {(file, function): them}.
        self.sinks, self.within, self.grown, self.soft = {}, {}, True, False

    def run(self):
        while self.grown:
            self.grown = False
            for source in sources().values():
                for node in ast.walk(source.tree):
                    if isinstance(node, ast.Call):
                        self.call(source, node)
        self.classes()
        return self

    def call(self, source, node):
        for word in node.keywords:
            if word.arg == "violation_error_message":
                self.take(source, word.value)
        if ast.unparse(node.func) == "missing.append":
            self.take(source, node.args[0])
        for value in self.arguments(source, node, self.sinks):
            self.take(source, value)
        for value in self.arguments(source, node, self.within):
            for text in self.phrase(source, value, frozenset()):
                self.keep_phrase(source, value, text)

    def arguments(self, source, node, sinks):
        """The expressions of a call that become words of a failure."""
        name = called(node)
        if name in SINKS and sinks is self.sinks:
            places, named = SINKS[name], NAMED
        else:
            named = self.parameters(source, node, sinks)
            places = named.values()
        starred = next((at for at, one in enumerate(node.args) if isinstance(one, ast.Starred)), len(node.args))
        yield from (node.args[place] for place in places if place < starred)
        yield from (word.value for word in node.keywords if word.arg in named and named[word.arg] in places)

    def parameters(self, source, node, sinks):
        """{parameter: place} that the called function or class hands on."""
        owner, name = self.target(source, node)
        if owner is None:
            return {}
        if isinstance(name, ast.ClassDef):
            fields = [one.target.id for one in name.body if isinstance(one, ast.AnnAssign)]
            return {field: place for place, field in enumerate(fields) if field in ("problem", "right")}
        return sinks.get((owner.name, name.name), {})

    def target(self, source, node):
        """(source, definition) of what is called, as far as the files say it."""
        name, function = called(node), node.func
        if isinstance(function, ast.Name):
            owner = source
            if name in source.imports:
                module, name = source.imports[name]
                owner = source_of(module)
        elif not isinstance(function, ast.Attribute):
            return None, None
        elif isinstance(function.value, ast.Name) and function.value.id in source.imports:
            module, inner = source.imports[function.value.id]
            owner = source_of(f"{module}.{inner}")
        else:
            owner = source if name in source.functions else None
            if owner is None:
                owner = next((one for key, one in sources().items() if (key, name) in {**self.sinks, **self.within}), None)
        if owner is None:
            return None, None
        found = owner.functions.get(name) or owner.classes.get(name)
        return (owner, found) if found is not None else (None, None)

    def take(self, source, value):
        key = (source.name, value.lineno, value.col_offset)
        if key in self.done:
            return
        self.done.add(key)
        for text in self.resolve(source, value, frozenset()):
            self.keep(source, value, text)

    def keep(self, source, value, text):
        if template(text) not in NO_WORDS and any(piece is not HOLE and re.search(r"[^\W\d_]", piece) for piece in text):
            self.texts.setdefault(template(text), f"{source.name}:{value.lineno}")

    def keep_phrase(self, source, value, text):
        """A hole is filled with names and codes, too: what is one word is none of ours, or listed by hand."""
        if " " in template(text).strip():
            self.keep(source, value, text)

    def phrase(self, source, value, seen):
        """What can stand in a hole: words of ours, or figures and names, of which nothing is known here."""
        before, self.soft = self.soft, True
        found = self.resolve(source, value, seen)
        self.soft = before
        return found

    def nothing(self, source, value):
        if self.soft:
            return []
        self.unseen.setdefault(f"{source.name}: {ast.unparse(value)}", value.lineno)
        return []

    def resolve(self, source, value, seen):
        """The texts, as tuples of pieces, that an expression can be."""
        key = (source.name, value.lineno, value.col_offset, type(value).__name__)
        if key in seen:
            return []
        method = getattr(self, f"_{type(value).__name__}", None)
        return method(source, value, seen | {key}) if method else self.nothing(source, value)

    def classes(self):
        """Words that stand on a class and are told as `self.right` or as messages of a field."""
        for source in sources().values():
            for node in ast.walk(source.tree):
                if isinstance(node, ast.Assign) and ast.unparse(node.targets[0]) in ON_CLASSES:
                    if isinstance(node.parent, ast.ClassDef):
                        self.take(source, node.value)
                elif isinstance(node, ast.Dict) and source.name in REASONS:
                    keys = [getattr(key, "value", None) for key in node.keys]
                    if "words" in keys:
                        self.take(source, node.values[keys.index("words")])
                elif isinstance(node, ast.FunctionDef) and node.name.startswith(("_say_", "limit_words")):
                    for text in self.returned(source, node, frozenset()):
                        self.keep(source, node, text)
                elif isinstance(node, ast.FunctionDef) and node.name == "right":
                    for text in self.returned(source, node, frozenset()):
                        self.keep(source, node, text)

    def any_of(self, source, values, seen):
        return [text for value in values for text in self.resolve(source, value, seen)]

    def _Constant(self, source, value, seen):
        return [tuple(parts_of(value.value))] if isinstance(value.value, str) else []

    def _JoinedStr(self, source, value, seen):
        found = [()]
        for part in value.values:
            ends = [(part.value,)] if isinstance(part, ast.Constant) else self.hole(source, part, seen)
            found = [(*text, *end) for text in found for end in ends]
        return found

    def hole(self, source, part, seen):
        """What a hole can be: one of some ends of a sentence, or a hole, whose words stand by themselves."""
        if part.format_spec is not None or part.conversion != -1:
            return [(HOLE,)]
        texts = self.phrase(source, part.value, seen)
        one_word = isinstance(part.value, ast.IfExp) and all(len(text) == 1 for text in texts)
        if one_word or any(text[0] and text[0].startswith(" ") for text in texts if text):
            return [() if text == ("",) else text for text in texts]
        for text in texts:
            self.keep_phrase(source, part.value, text)
        return [(HOLE,)]

    def _BinOp(self, source, value, seen):
        if isinstance(value.op, ast.Mod):
            return self.resolve(source, value.left, seen)
        sides = (self.resolve(source, side, seen) for side in (value.left, value.right))
        return [(*left, *right) for left, right in product(*sides)]

    def _IfExp(self, source, value, seen):
        return self.any_of(source, (value.body, value.orelse), seen)

    def _BoolOp(self, source, value, seen):
        return self.any_of(source, value.values, seen)

    def _Tuple(self, source, value, seen):
        return self.any_of(source, value.elts, seen)

    _List = _Tuple

    def _Dict(self, source, value, seen):
        return self.any_of(source, value.values, seen)

    def _DictComp(self, source, value, seen):
        return self.resolve(source, value.value, seen)

    def _ListComp(self, source, value, seen):
        return self.resolve(source, value.elt, seen)

    _GeneratorExp = _ListComp

    def _Starred(self, source, value, seen):
        return self.resolve(source, value.value, seen)

    def _Subscript(self, source, value, seen):
        return self.resolve(source, value.value, seen)

    def _Attribute(self, source, value, seen):
        if value.attr in HANDED_ON or ast.unparse(value.value) in ("serializers", "forms"):
            return []
        if isinstance(value.value, ast.Name) and value.value.id in source.imports:
            module, inner = source.imports[value.value.id]
            owner = source_of(f"{module}.{inner}")
            if owner and value.attr in owner.constants:
                return self.resolve(owner, owner.constants[value.attr], seen)
        for owner in sources().values():
            found = owner.functions.get(value.attr)
            if found is not None and any(ast.unparse(one) == "property" for one in found.decorator_list):
                return self.returned(owner, found, seen)
        return self.nothing(source, value)

    def _Call(self, source, value, seen):
        name = called(value)
        if name == "format" and isinstance(value.func, ast.Attribute):
            for word in value.keywords:
                for text in self.phrase(source, word.value, seen):
                    self.keep_phrase(source, word.value, text)
            return self.resolve(source, value.func.value, seen)
        if name == "join" and ast.unparse(value.func.value) == "', '":
            return [(HOLE,)]
        if name in ("str", "isoformat", "sorted", "map", "len"):
            return [(HOLE,)]
        if name == "get" and isinstance(value.func, ast.Attribute):
            return self.any_of(source, (value.func.value, *value.args[1:]), seen)
        if name == "next":
            return self.any_of(source, value.args, seen)
        owner, found = self.target(source, value)
        if isinstance(found, ast.FunctionDef):
            for argument in (*value.args, *(word.value for word in value.keywords)):
                for text in self.phrase(source, argument, seen):
                    self.keep_phrase(source, argument, text)
            return self.returned(owner, found, seen)
        return self.nothing(source, value)

    def returned(self, owner, function, seen):
        """What a function can return; parameters that it returns are followed to its calls."""
        nodes = [one for one in ast.walk(function) if isinstance(one, ast.Return | ast.Yield) and one.value]
        return self.any_of(owner, [one.value for one in nodes], seen)

    def _Name(self, source, value, seen):
        scope = value
        while (scope := getattr(scope, "parent", None)) is not None:
            if isinstance(scope, ast.FunctionDef | ast.ListComp | ast.GeneratorExp | ast.For):
                found = list(self.local(scope, value.id))
                if found:
                    return self.any_of(source, found, seen)
            if isinstance(scope, ast.FunctionDef) and value.id in parameters_of(scope):
                return self.handed(source, scope, value.id, seen)
        if value.id in TYPES:
            return []
        if value.id in source.constants:
            return self.resolve(source, source.constants[value.id], seen)
        if value.id in source.imports:
            module, name = source.imports[value.id]
            owner = source_of(module)
            if owner and name in owner.constants:
                return self.resolve(owner, owner.constants[name], seen)
        return self.nothing(source, value)

    def local(self, scope, name):
        for node in ast.walk(scope):
            pairs = ()
            if isinstance(node, ast.Assign):
                pairs = ((target, node.value) for target in node.targets)
            elif isinstance(node, ast.For | ast.comprehension):
                pairs = ((node.target, node.iter),)
            elif isinstance(node, ast.NamedExpr):
                pairs = ((node.target, node.value),)
            for target, value in pairs:
                yield from (each for known, each in bound(target, value) if known == name)

    def handed(self, source, function, name, seen):
        """A parameter: whoever calls this function says the words."""
        place = parameters_of(function).index(name)
        known = (self.within if self.soft else self.sinks).setdefault((source.name, function.name), {})
        if name not in known:
            known[name] = place
            self.grown = True
        return []


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


@cache
def collected():
    return Collector().run()
