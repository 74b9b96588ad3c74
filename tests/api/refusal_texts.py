"""Every text that can go into a failure, found in the source: templates whose holes are {0}, {1}, …

A text is followed from where it is handed to a failure: through names, constants, branches, functions that
hand on what they are given, and what functions return. Nothing is run.
"""

import ast
import re
from functools import cache

from tests.api.refusal_flow import Flow
from tests.api.refusal_sources import called, source_of, sources

# What of a call becomes words: {parameter: place}. Every class of coop/errors.py is said with a message.
MESSAGE, WRONG = {"message": 0}, {"problem": 2, "right": 3}
SINKS = {"Problem": WRONG, "invalid": WRONG, "Unfit": {"problem": 0, "right": 1}}
OF_DJANGO = ("PermissionDenied", "ValidationError")
ON_CLASSES = {"default_error_messages", "right"}
# Why a carton is not safe: told in refusals, and beside a carton.
REASONS = {"api/parcels_reasons.py", "api/departures_reasons.py"}
# Functions whose answer is told.
SAYING = re.compile("_say_.*|limit_words|right")


class Collector(Flow):
    def run(self):
        failures = source_of("coop.errors").classes
        self.known = {**dict.fromkeys((*failures, *OF_DJANGO), MESSAGE), **SINKS}
        while self.grown:
            self.grown = False
            for source in sources().values():
                for node in source.calls:
                    self.call(source, node)
        self.classes()
        return self

    def call(self, source, node):
        for word in node.keywords:
            if word.arg == "violation_error_message":
                self.take(source, word.value)
        if called(node) == "append" and ast.unparse(node.func) == "missing.append":
            self.take(source, node.args[0])
        for value in self.arguments(source, node, self.sinks):
            self.take(source, value)
        for value in self.arguments(source, node, self.within):
            for text in self.phrase(source, value, frozenset()):
                self.keep_phrase(source, value, text)

    def arguments(self, source, node, sinks):
        """The expressions of a call that become words of a failure."""
        starred = (at for at, one in enumerate(node.args) if isinstance(one, ast.Starred))
        most = next(starred, len(node.args))
        for places in self.parameters(source, node, sinks):
            yield from (node.args[place] for place in places.values() if place < most)
            yield from (word.value for word in node.keywords if word.arg in places)

    def parameters(self, source, node, sinks):
        """{parameter: place} of what the called function or class hands on, for each that it may be."""
        if called(node) in self.known:
            yield self.known[called(node)]
            return
        for owner, found in self.targets(source, node):
            if isinstance(found, ast.ClassDef):
                fields = [one.target.id for one in found.body if isinstance(one, ast.AnnAssign)]
                yield {field: place for place, field in enumerate(fields) if field in ("problem", "right")}
            else:
                yield sinks.get((owner.name, found.name), {})

    def take(self, source, value):
        key = (source.name, value.lineno, value.col_offset)
        if key in self.done:
            return
        self.done.add(key)
        for text in self.resolve(source, value, frozenset()):
            self.keep(source, value, text)

    def classes(self):
        """Words that stand on a class and are told as `self.right` or as messages of a field."""
        for source in sources().values():
            for node in source.nodes:
                if isinstance(node, ast.Assign) and ast.unparse(node.targets[0]) in ON_CLASSES:
                    if isinstance(node.parent, ast.ClassDef):
                        self.take(source, node.value)
                elif isinstance(node, ast.Dict) and source.name in REASONS:
                    keys = [getattr(key, "value", None) for key in node.keys]
                    if "words" in keys:
                        self.take(source, node.values[keys.index("words")])
                elif isinstance(node, ast.FunctionDef) and SAYING.fullmatch(node.name):
                    for text in self.returned(source, node, frozenset()):
                        self.keep(source, node, text)


@cache
def collected():
    return Collector().run()
