"""What counts from a day on: a figure is changed by a new row, what it was until then stays.

Each subject has a thin module beside this one that names its figures. A change is written with who made it,
when and why, so that any day's cost can be worked out again as it was known at any instant.
"""

from dataclasses import dataclass, replace
from datetime import date, datetime

from django.db import transaction
from django.db.models.deletion import Collector, ProtectedError
from django.utils import timezone

from coop.errors import Conflict, NotFound, Problem, invalid
from coop.models import Cooperative, Figures, Member
from coop.models.history import NOTE_LENGTH
from coop.selectors.payments import local_today
from coop.services.locking import lock
from coop.services.roles import require_manager
from coop.services.writing import written

ENTERED = "entered by a manager"


@dataclass(frozen=True)
class Pen:
    """Who writes a change, when, and what she notes: all of it is kept with each row that she writes."""

    by: Member
    cooperative: Cooperative
    now: datetime
    note: str = ""

    @property
    def today(self):
        return local_today(self.cooperative, self.now)

    def write(self, row):
        return written(self._signed(row))

    def take_away(self, row):
        self._signed(row).delete()

    def _signed(self, row):
        row._history_user, row._history_date = self.by, self.now
        row._change_reason = self.note
        return row


class NoParts:
    """The parts of a row that has none; with parts, what is wanted of them."""

    def same(self, row):
        return True

    def write(self, row, pen):
        """Gives a row these parts in place of those that it has."""

    def require_replaceable(self, row):
        """Refuses where a row of the same day may not be written anew."""


@dataclass(frozen=True)
class Wanted:
    """A change of one thing of a model: what makes it that thing, its figures, and the days."""

    model: type
    alike: dict
    figures: dict
    valid_from: date
    valid_until: date | None = None
    confirmed_on: date | None = None
    parts: object = NoParts()

    def same(self, row):
        return all(getattr(row, name) == value for name, value in self.figures.items()) and self.parts.same(
            row
        )


def pen_of(by, doing, note="", now=None):
    """A Pen of a manager, with her cooperative held until the transaction ends."""
    require_manager(by, doing)
    if len(note) > NOTE_LENGTH:
        raise invalid("note", note, "is too long", f"at most {NOTE_LENGTH} letters")
    return Pen(by, lock(by.cooperative), now or timezone.now(), note)


def change(pen, wanted):
    """The row that counts from the wanted day on: what counted ends there; the same again is nothing new.

    It ends where the next one begins, or where it is said to. One that begins the same day is replaced, and
    only its history knows what it was.
    """
    require_coming("valid_from", wanted.valid_from, pen.today)
    rows = list(
        wanted.model.objects.of(pen.cooperative).filter(**filters(wanted.alike)).order_by("valid_from")
    )
    counting = next((row for row in rows if row.counts_on(wanted.valid_from)), None)
    following = next((row for row in rows if row.valid_from > wanted.valid_from), None)
    wanted = replace(wanted, valid_until=end_of(wanted, following))
    if counting is not None and wanted.same(counting):
        return _gone_on(pen, wanted, counting)
    if counting is not None and counting.valid_from == wanted.valid_from:
        wanted.parts.require_replaceable(counting)
        return _replaced(pen, wanted, counting)
    if counting is not None:
        counting.valid_until = wanted.valid_from
        pen.write(counting)
    row = wanted.model(**(_owner(wanted.model, pen) | wanted.alike))
    return _replaced(pen, wanted, row)


@transaction.atomic
def confirm(row, by, *, now=None):
    """Somebody asked, and it is still right."""
    pen = pen_of(by, "confirm a figure", now=now)
    row = as_it_is(row, pen)
    if not hasattr(row, "confirmed_on"):
        name = row._meta.verbose_name
        raise invalid(
            "subject", name, "is nothing that one asks about", "a price, a fare, terms or a timetable"
        )
    if row.valid_until is not None and row.valid_until <= pen.today:
        raise over(row)
    row.confirmed_on = pen.today
    return pen.write(row)


@transaction.atomic
def end(row, valid_until, by, note="", *, now=None):
    """It counts until a day, which no longer counts; nothing takes its place."""
    pen = pen_of(by, "end what counts", note, now)
    row = as_it_is(row, pen)
    if row.valid_until is not None and row.valid_until <= pen.today:
        raise over(row)
    require_coming("valid_until", valid_until, pen.today)
    if valid_until <= row.valid_from:
        right = f"a day after {row.valid_from.isoformat()}, or to withdraw it"
        raise invalid(
            "valid_until", valid_until.isoformat(), "is not after the day on which it begins", right
        )
    row.valid_until = valid_until
    return pen.write(row)


@transaction.atomic
def withdraw(row, by, note="", *, now=None):
    """Takes a change back that has not begun: the one before goes on, and is answered, or None."""
    pen = pen_of(by, "withdraw a change", note, now)
    row = as_it_is(row, pen)
    if row.valid_from <= pen.today:
        wrong = Problem("valid_from", row.valid_from.isoformat(), "has begun", "to end it, or to change it")
        raise Conflict("This counts already: it is ended, not withdrawn.", wrong)
    before = _before(row, pen)
    goes_on_until = before and _own_end(before, row)
    _take_away(row, pen)
    if before is None:
        return None
    before.valid_until = goes_on_until
    return pen.write(before)


def require_coming(field, day, today):
    if day < today:
        right = f"{today.isoformat()} or later: what is over stays as it was"
        raise invalid(field, day.isoformat(), "is over", right)


def end_of(wanted, following):
    """Where the new row ends: where it is said, and not later than where the next one begins."""
    end_, begin = wanted.valid_until, wanted.valid_from
    if end_ is not None and end_ <= begin:
        raise invalid(
            "valid_until", end_.isoformat(), "is not after valid_from", f"after {begin.isoformat()}"
        )
    ends = [day for day in (end_, following and following.valid_from) if day is not None]
    return min(ends, default=None)


def figures_of(pen):
    """What is said of figures that a manager enters; those of the demonstration stay invented."""
    figures = Figures.INVENTED if pen.cooperative.is_demo else Figures.READ
    return {"figures": figures, "source": ENTERED}


def as_it_is(row, pen):
    """The row as it is stored now, if it is of her cooperative."""
    found = type(row).objects.of(pen.cooperative).filter(pk=row.pk).first()
    if found is None:
        raise NotFound(f"There is no such {row._meta.verbose_name}.")
    return found


def over(row):
    wrong = Problem("valid_until", row.valid_until.isoformat(), "is over", "one that counts now or later")
    return Conflict("This counts no more: what is over stays as it was.", wrong)


def filters(alike):
    """The same as a question to the database, where nothing is not equal to nothing."""
    return {
        (f"{name}__isnull" if value is None else name): value is None or value
        for name, value in alike.items()
    }


def _owner(model, pen):
    return {"cooperative": pen.cooperative} if model.owned_through == "cooperative" else {}


def _gone_on(pen, wanted, row):
    """The row that says the same already, to the wanted end, and confirmed if that is newer."""
    confirmed = getattr(row, "confirmed_on", None)
    is_newer = wanted.confirmed_on is not None and wanted.confirmed_on != confirmed
    if row.valid_until == wanted.valid_until and not is_newer:
        return row
    row.valid_until = wanted.valid_until
    if is_newer:
        row.confirmed_on = wanted.confirmed_on
    return pen.write(row)


def _replaced(pen, wanted, row):
    """The row, new or of the same day, with the wanted figures and parts."""
    columns = {**wanted.figures, **figures_of(pen)}
    columns |= {"valid_from": wanted.valid_from, "valid_until": wanted.valid_until}
    if hasattr(row, "confirmed_on"):
        columns["confirmed_on"] = wanted.confirmed_on or pen.today
    for name, value in columns.items():
        setattr(row, name, value)
    pen.write(row)
    wanted.parts.write(row, pen)
    return row


def _before(row, pen):
    """What counted until the day on which a row begins."""
    alike = {name: getattr(row, name) for name in row.alike}
    return type(row).objects.of(pen.cooperative).filter(**filters(alike), valid_until=row.valid_from).first()


def _own_end(before, row):
    """Where the row before ends when this one is gone: where this one would, or sooner if it was ended."""
    other = before.history.exclude(valid_until=row.valid_from).order_by("history_id").last()
    end_ = other and other.valid_until
    is_sooner = (
        end_ is not None and end_ > row.valid_from and (row.valid_until is None or end_ < row.valid_until)
    )
    # An end at which another row once began was no end of its own.
    alike = {name: getattr(row, name) for name in row.alike}
    began = type(row).history.filter(**filters(alike), valid_from=end_).exclude(id=before.pk)
    return end_ if is_sooner and not began.exists() else row.valid_until


def _take_away(row, pen):
    try:
        # Looked at before anything goes: a part of what is used would not even be let go.
        Collector(using=row._state.db).collect([row])
    except ProtectedError as held:
        wrong = Problem(row._meta.verbose_name, str(row), "is used already", "to end it")
        raise Conflict("Something rests on this already: it can only be ended.", wrong) from held
    for part in parts_below(row):
        pen.take_away(part)
    pen.take_away(row)


def parts_below(row):
    """Parts of a dated row, those of its parts first."""
    for name in PARTS.get(row._meta.model_name, ()):
        for part in getattr(row, name).all():
            yield from parts_below(part)
            yield part


PARTS = {"tariff": ("rules",), "tariffrule": ("steps",), "cartondesign": ("materials",)}
"""Names of the relations to what is written and taken away with a row."""
