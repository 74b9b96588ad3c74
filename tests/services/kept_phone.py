"""A phone as far as its keeping goes: it builds its documents of what came and what was there.

Written from the description of the answer (`api/kept.py`), beside the one in `frontend/src/kept.js`.
"""

ROWS, NAMES = ("results", "entries"), ("id", "slug", "code")


def name_of(row):
    return next(str(row[name]) for name in NAMES if row.get(name) is not None)


def built(document, before):
    """The answer that a document stands for; `before` is what the phone had at every path."""
    if "value" in document:
        return document["value"]
    base = before[document.get("like", document["path"])]
    answer = {**base, **document["head"]}
    if "rows" in document:
        place = next(name for name in ROWS if isinstance(base.get(name), list))
        named = {name_of(row): row for row in [*base[place], *document["rows"]]}
        order = document.get("order", [name_of(row) for row in base[place]])
        answer[place] = [named[name] for name in order]
    return answer


class KeptPhone:
    def __init__(self):
        self.documents, self.cursor = {}, None

    def take(self, answer):
        """All of an answer at once, as the screens keep it: {since, cursor, documents, gone}."""
        before = self.documents if answer["since"] is not None else {}
        assert answer["since"] in (None, self.cursor)
        new = {one["path"]: built(one, before) for one in answer["documents"]}
        left = {path: value for path, value in before.items() if path not in answer["gone"]}
        self.documents, self.cursor = left | new, answer["cursor"]
