"""The edition of a row: a word for how it is now. Who names the one she saw undoes nobody's work unseen."""

import hashlib
import json
import re

from rest_framework import serializers

from api.elsewhere import response_at
from coop.errors import Changed, Problem, invalid

EXAMPLE = "4f1c0a9be23d7781"
A_ROW = re.compile(r"^/api/v1/[^/]+/[^/]+/")
HEADER = "If-Match"
QUOTED = re.compile(r'^(?:W/)?"([0-9a-f]{16})"$')


class Edition(serializers.CharField):
    """Worked out of all that is shown beside it."""

    def get_attribute(self, _row):
        return ""


class Edited(serializers.Serializer):
    """A row that says in which edition it is shown."""

    edition = Edition(help_text="for If-Match: another one once the row has changed", read_only=True)

    def __init_subclass__(cls, **options):
        super().__init_subclass__(**options)
        if "example" in cls.__dict__:
            cls.example["edition"] = EXAMPLE

    def to_representation(self, row):
        return with_edition(super().to_representation(row))


def with_edition(shown, but=frozenset()):
    """What is shown of a row, and a word for it; what `but` names changes by itself, or by who looks."""
    stands = {name: value for name, value in shown.items() if name != "edition"}
    text = json.dumps(without(stands, but), sort_keys=True, default=str)
    return {**stands, "edition": hashlib.sha256(text.encode()).hexdigest()[:16]}


def without(value, names):
    if isinstance(value, dict):
        return {name: without(one, names) for name, one in value.items() if name not in names}
    return [without(one, names) for one in value] if isinstance(value, list | tuple) else value


def require_unchanged(request):
    """Raises Changed with the row as it is shown to her now, unless it still is what If-Match names."""
    named = request.headers[HEADER]
    seen = QUOTED.match(named.strip())
    row = row_now(request)
    if seen is None or (row is not None and "edition" not in row):
        raise invalid(HEADER, named, "is no edition of this row", "the `edition` of the row in quotes")
    if row is not None and row["edition"] != seen[1]:
        wrong = Problem(HEADER, named, "is not how it is now", "look at both, and decide")
        raise Changed("Somebody has changed this since you saw it.", wrong, current=row)


def row_now(request):
    """What she would see at the address of the row that she writes to; None where she sees nothing."""
    address = A_ROW.match(request.path_info)
    if address is None:
        raise invalid(HEADER, request.headers[HEADER], "names no row here", "no such header")
    answer = response_at(request, address[0], request.META.get("QUERY_STRING", ""))
    return answer.data if answer.status_code == 200 else None
