"""Who changed which dated figure when, from what to what, and why: one account of all subjects."""

from dataclasses import dataclass
from datetime import date, datetime

from django.db.models import CharField, Value

from coop.models import Member
from coop.selectors.history_parts import PartsKept
from coop.selectors.subjects import SUBJECTS, Subject

BEGUN, CHANGED, ENDED, WITHDRAWN, CONFIRMED = "begun", "changed", "ended", "withdrawn", "confirmed"
KINDS = (BEGUN, CHANGED, ENDED, WITHDRAWN, CONFIRMED)


@dataclass(frozen=True)
class Figure:
    """One figure before and after; None where there was or is none."""

    field: str
    before: object
    after: object


@dataclass(frozen=True)
class Change:
    """One record; what begins is told from what counted until then."""

    at: datetime
    by: Member | None
    subject: Subject
    id: int
    name: str
    kind: str
    valid_from: date
    valid_until: date | None
    note: str
    changes: tuple[Figure, ...]


class History:
    """The records of a cooperative, the newest first; a slice is read in a fixed number of questions."""

    def __init__(self, cooperative, *, subject=None, id=None):
        self.cooperative = cooperative
        wanted = [SUBJECTS[subject]] if subject else SUBJECTS.values()
        self.keys = _union([self._keys(one, id) for one in wanted])

    def __len__(self):
        return self.keys.count()

    def __getitem__(self, asked: slice) -> list[Change]:
        keys = list(self.keys[asked])
        told = {}
        for word in {word for word, _, _ in keys}:
            ids = [history_id for of, history_id, _ in keys if of == word]
            told |= {(word, pk): one for pk, one in self._told(SUBJECTS[word], ids).items()}
        return [told[word, history_id] for word, history_id, _ in keys]

    def _keys(self, subject, id_):
        rows = self._records(subject).order_by()
        rows = rows if id_ is None else rows.filter(id=id_)
        rows = rows.annotate(word=Value(subject.word, output_field=CharField(max_length=20)))
        return rows.values_list("word", "history_id", "history_date")

    def _records(self, subject):
        return subject.model.history.model.objects.of(self.cooperative)

    def _told(self, subject, history_ids):
        """Change of each of these records, by its number."""
        records = self._records(subject)
        rows = records.filter(history_id__in=history_ids).values_list("id", flat=True)
        beside = [*subject.beside, "history_user"]
        of_rows = records.filter(id__in=list(rows)).select_related(*beside)
        in_order = list(of_rows.order_by("history_date", "history_id"))
        stored = list(subject.model.objects.of(self.cooperative))
        before = {key_of(row, row.valid_until): row for row in stored}
        parts = PartsKept(subject, [*{record.id for record in in_order}, *(row.pk for row in stored)])
        found, last = {}, {}
        for record in in_order:
            if record.history_id in history_ids:
                earlier = last.get(record.id) or before.get(key_of(record, record.valid_from))
                found[record.history_id] = _change(subject, record, earlier, last.get(record.id), parts)
            last[record.id] = record
        return found


def key_of(row, day):
    """What makes a row or a record that of its thing, with a day on which it ends or another one begins."""
    names = [type(row)._meta.get_field(name).attname for name in _alike(row)]
    return (*(getattr(row, name) for name in names), day)


def _alike(row):
    return getattr(row, "instance_type", type(row)).alike


def _union(keys):
    first, *others = keys
    found = first.union(*others, all=True) if others else first
    return found.order_by("-history_date", "-history_id", "word")


def _change(subject, record, earlier, own, parts):
    figures = () if record.history_type == "-" else tuple(_figures(subject, record, earlier, parts))
    return Change(
        at=record.history_date,
        by=record.history_user,
        subject=subject,
        id=record.id,
        name=subject.name(record),
        kind=kind_of(record, own, figures),
        valid_from=record.valid_from,
        valid_until=record.valid_until,
        note=record.history_change_reason or "",
        changes=figures,
    )


def kind_of(record, own, figures):
    """What happened: by what was written and, of a row that was there, by what was changed of it."""
    if record.history_type == "-":
        return WITHDRAWN
    if own is None or record.history_type == "+":
        return BEGUN
    changed = {figure.field for figure in figures}
    if changed == {"confirmed_on"}:
        return CONFIRMED
    until = record.valid_until
    is_sooner = until is not None and (own.valid_until is None or until < own.valid_until)
    return ENDED if changed == {"valid_until"} and is_sooner else CHANGED


def _figures(subject, record, earlier, parts):
    is_same_row = earlier is not None and earlier.id == record.id
    for name in subject.figures:
        before, after = (row and getattr(row, name) for row in (earlier, record))
        # Where another row went on until now, its end is no figure of this one.
        if before != after and (is_same_row or name not in ("valid_until", "confirmed_on")):
            yield Figure(name, before, after)
    if subject.parts:
        before, after = parts.of(earlier, before=record.history_date), parts.of(record)
        if before != after:
            yield Figure(subject.parts, before, after)
