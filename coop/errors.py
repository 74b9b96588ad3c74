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


class NotKnown(Failure):
    """Nobody knows who asks: no token, a wrong one, or one that counts no more."""

    code = "not_known"


class NotFound(Failure):
    """What was asked for does not exist, or belongs to somebody else."""

    code = "not_found"


class NotAllowed(Failure):
    """It exists, but this person may not do that with it."""

    code = "not_allowed"


class Conflict(Failure):
    """It would contradict what is stored already."""

    code = "conflict"


class NoRoom(Conflict):
    """Somebody else has the place: how much is left, and the next departure if one takes the fish."""

    code = "no_room"

    def __init__(self, message, *problems, room_kg, offer=None):
        super().__init__(message, *problems)
        self.room_kg = room_kg
        self.offer = offer


class Gone(Conflict):
    """Somebody else was first; so many kilograms of it can still be had."""

    code = "gone"

    def __init__(self, message, *problems, left_kg):
        super().__init__(message, *problems)
        self.left_kg = left_kg


class Changed(Conflict):
    """The row is no longer as it was seen: `current` is how it is shown by now."""

    def __init__(self, message, *problems, current):
        super().__init__(message, *problems)
        self.current = current


class KeyTaken(Failure):
    """The key of a write stood for something else before."""

    code = "key_taken"


class TooOld(Failure):
    """Pages of this version write no more."""

    code = "too_old"


class NotSafe(Conflict):
    """The fish would not surely arrive hard; `judged` carries the reason and its figures."""

    code = "not_safe"

    def __init__(self, message, *problems, judged):
        super().__init__(message, *problems)
        self.judged = judged


class TooMany(Failure):
    """Too many tries; `seconds` from now it may be tried again."""

    code = "too_many"

    def __init__(self, message, seconds):
        super().__init__(message)
        self.seconds = seconds


class TooLarge(Failure):
    """More was sent than anybody needs to send."""

    code = "too_large"


def invalid(field, value, problem, right):
    """The commonest failure: one field, its value, what is wrong with it and what would be right."""
    return Invalid(f"{field}: {problem}; right is {right}", Problem(field, value, problem, right))
