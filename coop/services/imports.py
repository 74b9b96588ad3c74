"""Takes a checked file in, whole or not at all: what differs from what is stored is changed by its service.

A line is (place, values): where it stands in its file, and values by column as `selectors/exports.py` has
them. What a file does not name stays as it is. A dry run does everything, and takes it back.
"""

from dataclasses import dataclass
from itertools import groupby

from django.db import transaction
from django.utils import timezone

from coop.errors import Failure, Invalid, Problem, TooLarge
from coop.models import Member
from coop.selectors.payments import local_today
from coop.services.locking import lock
from coop.services.roles import require_manager

MOST_CHANGES = 2000
"""New and changed lines of one file: each is written with its history, while everybody else waits."""
MOST_SHOWN = 100
WHOLE = "__all__"
"""What Django calls a problem of a whole form."""
NEW, CHANGED, SAME = "new", "changed", "same"


@dataclass(frozen=True)
class Change:
    field: str
    before: object
    after: object


@dataclass(frozen=True)
class Difference:
    """What one item of a file changes; `place` is where it stands there."""

    place: str
    kind: str
    name: str
    changes: tuple = ()


@dataclass(frozen=True)
class Taken:
    differences: tuple

    @property
    def counts(self):
        kinds = [one.kind for one in self.differences]
        return {kind: kinds.count(kind) for kind in (NEW, CHANGED, SAME)}


@dataclass(frozen=True)
class Item:
    """One thing of a file, of one line or of several: a tariff has a line for each of its rules."""

    places: tuple
    lines: tuple

    @property
    def place(self):
        return self.places[0]

    @property
    def values(self):
        return self.lines[0]


@dataclass(frozen=True)
class Taking:
    """Who takes in what, when; handed to the subject with each item."""

    by: Member
    cooperative: object
    today: object
    note: str
    now: object


@transaction.atomic
def take_in(*, by: Member, subject, lines: list, dry_run: bool, note: str = "", now=None) -> Taken:
    """Changes what these lines say of a subject of `imports_subjects.py`; refusals name their lines."""
    require_manager(by, "take in a file")
    cooperative, now = lock(by.cooperative), now or timezone.now()
    taking = Taking(by, cooperative, local_today(cooperative, now), note, now)
    items = items_of(subject, lines)
    book = subject.book(taking, items)
    wanted = [(item, book.difference(item)) for item in items]
    require_few(wanted)

    problems = []
    for item, difference in wanted:
        if difference.kind != SAME:
            problems += refusals(book, item, difference)
    if problems:
        raise first_of(problems)

    if dry_run:
        transaction.set_rollback(True)
    return Taken(tuple(difference for _, difference in wanted))


def items_of(subject, lines):
    """Items in the order in which they must be changed: of one thing the earlier day first."""
    problems = [problem for place, values in lines for problem in subject.problems(place, values)]
    found, ordered = [], sorted(lines, key=lambda line: subject.order(line[1]))
    for _, group in groupby(ordered, key=lambda line: subject.order(line[1])):
        places, values = zip(*group, strict=True)
        item = Item(places, values)
        problems += subject.item_problems(item)
        found.append(item)
    if problems:
        raise first_of(problems)
    return found


def require_few(wanted):
    changes = sum(difference.kind != SAME for _, difference in wanted)
    if changes > MOST_CHANGES:
        raise TooLarge(f"This file changes {changes} things; right is at most {MOST_CHANGES} at once.")


def refusals(book, item, difference):
    """Applies an item; the problems of what its service refuses, placed in the file."""
    try:
        with transaction.atomic():
            book.apply(item, difference)
    except Failure as refused:
        problems = refused.problems or (Problem(WHOLE, None, refused.message, "what fits what is stored"),)
        return [Problem(placed(book.subject, item, one.field), *told(one)) for one in problems]
    return []


def placed(subject, item, field):
    """Where in the file the field of a problem stands; what is about a whole line names no column."""
    place, name = subject.where(item, field)
    return place if name == WHOLE else f"{place}, {name}"


def told(problem):
    return problem.value, problem.problem, problem.right


def first_of(problems):
    """One failure of all problems, its sentence about the first."""
    first, more = problems[0], len(problems) - 1
    rest = f" (and {more} more)" if more else ""
    return Invalid(f"{first.field}: {first.problem}{rest}.", *problems[:MOST_SHOWN])
