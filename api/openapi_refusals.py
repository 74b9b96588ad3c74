"""The refusals that each operation may answer with, and an example of each: for the description alone."""

from typing import NamedTuple

from api.authentication import OUT
from api.errors import shape
from api.roles import ANYBODY, VISITORS
from coop.errors import Problem

WRONG = shape(
    "invalid",
    "page: is after the last page.",
    [Problem("page", "9", "is after the last page", "a whole number from 1 to 3")],
)


class Refusal(NamedTuple):
    status: int
    name: str
    words: str
    example: dict


INVALID = Refusal(400, "refusal", "what is wrong, and what would be right", WRONG)
UNKNOWN = Refusal(401, "unknown", "nobody knows who asks", shape("not_known", OUT))
NOT_ALLOWED = Refusal(
    403, "not allowed", "somebody else may", shape("not_allowed", "This needs a packer or a manager.")
)
MISSING = Refusal(
    404, "missing", "there is none such", shape("not_found", "There is nothing at this address.")
)
CONFLICT = Refusal(
    409,
    "conflict",
    "it contradicts what is stored by now",
    shape("conflict", "Anna is the last manager: make another one first."),
)
TOO_LARGE = Refusal(
    413, "too large", "more than anybody sends", shape("too_large", "This is 300000 bytes long.")
)
OTHER_FORM = Refusal(
    415,
    "other form",
    "only JSON is read",
    shape("invalid", 'Unsupported media type "text/plain" in request.'),
)
TOO_MANY = Refusal(
    429,
    "too many",
    "too many tries: Retry-After says in how many seconds again",
    shape("too_many", "Too many tries from here: wait a while."),
)


def refusals_of(*, may, writes, has_rows):
    """What an operation may refuse, by who may ask, whether it writes and whether it names a row."""
    open_to_anybody = may is ANYBODY
    asked = (
        (INVALID, True),
        (UNKNOWN, not open_to_anybody),
        (NOT_ALLOWED, not open_to_anybody and may != VISITORS),
        (MISSING, has_rows or open_to_anybody),
        (CONFLICT, writes),
        (TOO_LARGE, writes),
        (OTHER_FORM, writes),
        (TOO_MANY, writes and open_to_anybody),
    )
    return [refusal for refusal, is_asked in asked if is_asked]
