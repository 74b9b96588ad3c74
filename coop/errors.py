"""Names of failures, without HTTP: `api/errors.py` gives each its answer."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Problem:
    """One thing that is wrong in what was asked, and what would be right."""

    field: str
    value: object
    problem: str
    right: str


class Failure(Exception):
    """Something a person can be told; `code` is the word that programs read."""

    code = "failed"

    def __init__(self, message, *problems):
        super().__init__(message)
        self.message = message
        self.problems = problems


class Invalid(Failure):
    """What was asked is wrong, missing, absurd or contradicts itself."""

    code = "invalid"


class NotFound(Failure):
    """What was asked for does not exist, or belongs to somebody else."""

    code = "not_found"


class NotAllowed(Failure):
    """It exists, but this person may not do that with it."""

    code = "not_allowed"


class Conflict(Failure):
    """It would contradict what is stored already."""

    code = "conflict"


def invalid(field, value, problem, right):
    """The commonest failure: one field, its value, what is wrong with it and what would be right."""
    return Invalid(f"{field}: {problem}; right is {right}", Problem(field, value, problem, right))
