"""What a phone keeps, as digests, and what is new since an earlier cursor.

A document is an answer of the interface: an object. It has a head, and many have rows, each with a name.
"""

import json
import re
from base64 import urlsafe_b64encode
from hashlib import blake2b
from urllib.parse import parse_qsl

from coop.models import Kept

ROWS = ("results", "entries")
NAMES = ("id", "slug", "code")
DAYS = frozenset({"from", "to", "on"})
"""Parameters in which tomorrow's question differs from today's: most of its answer is the same."""
DAY_OF_DEPARTURE = re.compile(r"-\d{8}-")
MOMENTS = frozenset({"worked_out_at"})
"""Tells when the question came, and nothing of what was asked: it alone makes no answer a new one."""
# 72 bits: among a million parts two have the same digest by chance once on ten thousand million phones.
DIGEST_BYTES = 9


def digest_of(value):
    text = json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return urlsafe_b64encode(blake2b(text.encode(), digest_size=DIGEST_BYTES).digest()).decode()


def rows_name(answer):
    """Where its rows stand, or None where it has none, or some without a name of their own."""
    found = next((name for name in ROWS if isinstance(answer.get(name), list)), None)
    named = [row_name(row) for row in answer[found]] if found else []
    return found if named and None not in named and len(set(named)) == len(named) else None


def row_name(row):
    named = (row[name] for name in NAMES if row.get(name) is not None) if isinstance(row, dict) else ()
    return next(map(str, named), None)


def digests_of(answer):
    """What is remembered of an answer: a digest of all, of each part of its head, and of each row."""
    rows = rows_name(answer)
    head = {name: digest_of(value) for name, value in answer.items() if name not in (rows, *MOMENTS)}
    if rows is None:
        return {"whole": digest_of(head), "head": head}
    named = {row_name(row): digest_of(row) for row in answer[rows]}
    return {"whole": digest_of([head, list(named.items())]), "head": head, "rows": named}


def cursor_of(given):
    """A word for all that was given: the same for the same."""
    return digest_of({path: one["whole"] for path, one in given.items()})


def kept_before(token, cursor):
    """The Kept of this token under this cursor, or None; a stranger's cursor is none of hers."""
    rows = Kept.objects.of(token.phone.cooperative_id).filter(token=token, cursor=cursor)
    return rows.first() if cursor else None


def changes(documents, given, before):
    """What of the documents, {path: answer}, is new since `before`, and the paths that are gone."""
    new = (change_of(path, answer, given[path], before) for path, answer in documents.items())
    return [one for one in new if one], [path for path in before if path not in documents]


def change_of(path, answer, given, before):
    """One document as a phone gets it, or None where it has it as it is."""
    base = path if path in before else like(path, before)
    known = before.get(base)
    if base == path and known["whole"] == given["whole"]:
        return None
    if known is None or set(known) != set(given) or set(known["head"]) != set(given["head"]):
        return {"path": path, "value": answer}
    return {"path": path, **({} if base == path else {"like": base}), **difference(answer, given, known)}


def difference(answer, given, known):
    """The parts of the head and the rows that changed, and the order of the rows where that did."""
    changed = {name for name, digest in given["head"].items() if known["head"][name] != digest} | MOMENTS
    found = {"head": {name: value for name, value in answer.items() if name in changed}}
    if "rows" in given:
        rows, old, new = answer[rows_name(answer)], known["rows"], given["rows"]
        found["rows"] = [row for row in rows if old.get(row_name(row)) != new[row_name(row)]]
        if list(new) != list(old):
            found["order"] = list(new)
    return found


def like(path, before):
    """The path of the same question about another day, or None."""
    wanted = without_days(path)
    return next((one for one in before if without_days(one) == wanted), None)


def without_days(path):
    address, _, query = path.partition("?")
    asked = tuple(pair for pair in parse_qsl(query) if pair[0] not in DAYS)
    return DAY_OF_DEPARTURE.sub("--", address), asked
