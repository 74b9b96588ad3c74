"""What texts an expression can be: followed through names, constants, branches, functions and their callers.

A text is a tuple of pieces, letters or HOLE. Nothing is run.
"""

import ast
import re
from itertools import product

from tests.api.refusal_sources import (
    HOLE,
    bindings,
    called,
    parameters_of,
    parts_of,
    source_of,
    sources,
    template,
)

HANDED_ON = {"problem", "right", "message", "messages"}
TYPES = {"bool", "int", "float", "str", "list", "dict"}
BINDING = ast.FunctionDef | ast.ListComp | ast.GeneratorExp | ast.For
# Where in a file something stands, which is no word of a language.
NO_WORDS = re.compile(
    r"(\S+\.txt|\{\d\}) line (\d|\{\d\})(, (\w+|\{\d\}))?|calendar.txt or calendar_dates.txt"
)


class Flow:
    """Texts and what could not be seen, gathered while expressions are followed."""

    def __init__(self):
        self.texts, self.unseen, self.done = {}, {}, set()
        # {(file, function): parameters} that go on to a failure, as they are or within a text.
        self.sinks, self.within, self.grown, self.soft = {}, {}, True, False
        self.handing = {}

    def keep(self, source, value, text):
        said = any(piece is not HOLE and re.search(r"[^\W\d_]", piece) for piece in text)
        if said and not NO_WORDS.fullmatch(template(text)):
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

    def target(self, source, node):
        """(source, definition) of what is called, as far as the files say it."""
        return next(self.targets(source, node), (None, None))

    def targets(self, source, node):
        """The same, and of a method of some object each that hands something on under this name."""
        name, function = called(node), node.func
        owners = [source]
        if isinstance(function, ast.Name) and name in source.imports:
            module, name = source.imports[name]
            owners = [source_of(module)]
        elif isinstance(function, ast.Attribute):
            value = function.value
            if isinstance(value, ast.Name) and value.id in source.imports:
                module, inner = source.imports[value.id]
                owners = [source_of(f"{module}.{inner}")]
            elif name not in source.functions:
                owners = self.handing.get(name, [])
        for owner in owners:
            found = owner and (owner.functions.get(name) or owner.classes.get(name))
            if found is not None:
                yield owner, found

    def resolve(self, source, value, seen):
        """The texts, as tuples of pieces, that an expression can be."""
        key = (source.name, value.lineno, value.col_offset, type(value).__name__)
        if key in seen:
            return []
        method = getattr(self, f"_{type(value).__name__.lower()}", None)
        return method(source, value, seen | {key}) if method else self.nothing(source, value)

    def any_of(self, source, values, seen):
        return [text for value in values for text in self.resolve(source, value, seen)]

    def _constant(self, source, value, seen):
        return [tuple(parts_of(value.value))] if isinstance(value.value, str) else []

    def _joinedstr(self, source, value, seen):
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

    def _binop(self, source, value, seen):
        if isinstance(value.op, ast.Mod):
            return self.resolve(source, value.left, seen)
        sides = (self.resolve(source, side, seen) for side in (value.left, value.right))
        return [(*left, *right) for left, right in product(*sides)]

    def _ifexp(self, source, value, seen):
        return self.any_of(source, (value.body, value.orelse), seen)

    def _boolop(self, source, value, seen):
        return self.any_of(source, value.values, seen)

    def _tuple(self, source, value, seen):
        return self.any_of(source, value.elts, seen)

    _list = _tuple

    def _dict(self, source, value, seen):
        return self.any_of(source, value.values, seen)

    def _dictcomp(self, source, value, seen):
        return self.resolve(source, value.value, seen)

    def _listcomp(self, source, value, seen):
        return self.resolve(source, value.elt, seen)

    _generatorexp = _listcomp

    def _starred(self, source, value, seen):
        return self.resolve(source, value.value, seen)

    def _subscript(self, source, value, seen):
        return self.resolve(source, value.value, seen)

    def _attribute(self, source, value, seen):
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

    def _call(self, source, value, seen):
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

    def _name(self, source, value, seen):
        scope = value
        while (scope := getattr(scope, "parent", None)) is not None:
            if isinstance(scope, BINDING) and value.id in bindings(scope):
                return self.any_of(source, bindings(scope)[value.id], seen)
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

    def handed(self, source, function, name, seen):
        """A parameter: whoever calls this function says the words."""
        place = parameters_of(function).index(name)
        known = (self.within if self.soft else self.sinks).setdefault((source.name, function.name), {})
        if name not in known:
            known[name] = place
            self.handing.setdefault(function.name, []).append(source)
            self.grown = True
        return []
