"""Rows of an archive on their way in: names become numbers again, and each value is checked."""

import secrets
from collections import defaultdict

from django.core.exceptions import ValidationError
from django.db import IntegrityError
from django.db.models import JSONField

from coop.errors import Conflict, Problem, invalid
from coop.models import Cooperative
from coop.models.spans import Span
from coop.selectors.archive import SHARED, columns, is_history, plain
from coop.selectors.archive_texts import with_numbers
from coop.services.secret_links import digest_of

BATCH = 500
# What must be there and does not travel: a link of once opens nothing here.
ANEW = {("Quote", "secret_digest"): lambda: digest_of(secrets.token_hex(32))}


class Arrival:
    """`lines` of each table, in the order of `tables`; `rows` are there once they are written."""

    def __init__(self, lines):
        self.lines, self.rows, self.by_key = lines, {}, {}
        self.gone = {}

    def write(self):
        for model in self.lines:
            if is_history(model):
                self.write_history(model)
            elif model in SHARED:
                self.write_shared(model)
            else:
                self.write_rows(model)

    def named(self, model):
        """(file and line, row) of each row of a table that was written."""
        for number, row in enumerate(self.rows[model], 1):
            yield f"{file_of(model)} line {number}", row

    def cooperative(self, slug):
        found = self.rows[Cooperative]
        if [row.slug for row in found] != [slug]:
            raise invalid("cooperative.jsonl", None, "names another cooperative", slug)
        return found[0]

    def write_rows(self, model):
        self.rows[model], self.by_key[model], waiting = [], {}, []
        to_itself = [field.name for field in columns(model) if field.related_model is model]
        for number, line in enumerate(self.lines[model], 1):
            if any(isinstance(line, dict) and line.get(name) for name in to_itself):
                # It names a row of its own table, which must have its number first.
                self.write_waiting(model, waiting)
            waiting.append(self.row_of(model, number, line))
        self.write_waiting(model, waiting)
        if len(self.by_key[model]) < len(self.rows[model]):
            raise invalid(file_of(model), None, "has two rows of one name", "each row once")

    def write_waiting(self, model, waiting):
        require_apart(model, waiting)
        rows = stored(model, waiting)
        self.rows[model] += rows
        self.by_key[model] |= {name_of(row): row for row in rows}
        waiting.clear()

    def write_shared(self, model):
        """A place or a species that is here already stays as it is: others rest on it."""
        here = {name_of(row): row for row in model.objects.all()}
        rows = [self.row_of(model, number, line) for number, line in enumerate(self.lines[model], 1)]
        new = stored(model, [row for row in rows if name_of(row) not in here])
        self.rows[model] = new
        self.by_key[model] = here | {name_of(row): row for row in new}

    def row_of(self, model, number, line):
        where = f"{file_of(model)} line {number}"
        fields = columns(model)
        require_columns(where, line, fields)
        row = model()
        for field in fields:
            if field.is_relation:
                setattr(row, field.name, self.pointed_at(field.related_model, line[field.name], where))
            else:
                setattr(row, field.attname, self.value_of(model, field, line[field.name], where))
        for (name, column), make in ANEW.items():
            if name == model.__name__:
                setattr(row, column, make())
        return row

    def value_of(self, model, field, value, where):
        if isinstance(field, JSONField):
            return with_numbers(
                model.__name__, field.name, value, lambda target, key: self.number_of(target, key, where)
            )
        try:
            found = field.to_python(value)
        except (ValidationError, TypeError, ValueError) as odd:
            raise odd_value(where, field, value) from odd
        # What only looks alike, 5.5 for a whole number say, is not what went out.
        if plain(found) != value:
            raise odd_value(where, field, value)
        return found

    def number_of(self, model, key, where):
        return self.pointed_at(model, key, where).pk

    def pointed_at(self, model, key, where):
        if key is None:
            return None
        found = self.by_key.get(model, {}).get(str(key))
        if found is None:
            right = f"the name of a row of {file_of(model)}"
            raise invalid(where, str(key), f"names no {model._meta.verbose_name} of this archive", right)
        return found

    def write_history(self, model):
        rows = []
        for number, line in enumerate(self.lines[model], 1):
            where = f"{file_of(model)} line {number}"
            fields = columns(model)
            require_columns(where, line, fields)
            row = model()
            for field in fields:
                target = model.instance_type if field.name == "id" else field.related_model
                if target is None:
                    value = self.value_of(model, field, line[field.name], where)
                else:
                    value = self.number_once(target, line[field.name], where)
                setattr(row, field.attname, value)
            rows.append(row)
        self.rows[model] = stored(model, rows)

    def number_once(self, model, named, where):
        """The number of a row that is there, or one below nothing for the n-th that is gone."""
        if named is None:
            return None
        if isinstance(named, dict) and set(named) == {"key"}:
            return self.number_of(model, named["key"], where)
        if (
            isinstance(named, dict)
            and set(named) == {"gone"}
            and type(named["gone"]) is int
            and 0 < named["gone"] < 10**6
        ):
            if model not in self.gone:
                self.gone[model] = self.lowest(model)
            # They keep their order, and no row to come is ever given such a number.
            return self.gone[model] + named["gone"]
        raise invalid(where, str(named), "names no row", "a name as it went out")

    def lowest(self, model):
        """A number so far below nothing that what is gone fits above it, beside what came in before."""
        lowest = min((number for number in numbers_gone(model)), default=0)
        return min(lowest, 0) - 10**6


def numbers_gone(model):
    if not hasattr(model, "history"):
        return []
    found = model.history.model.objects.filter(id__lt=0).order_by("id").values_list("id", flat=True)
    return found[:1]


def file_of(model):
    return f"{model._meta.model_name}.jsonl"


def odd_value(where, field, value):
    return invalid(f"{where}, {field.name}", str(value), "is no such value", "a value as it went out")


def require_columns(where, line, fields):
    wanted = {field.name for field in fields}
    if not isinstance(line, dict) or set(line) != wanted:
        odd = sorted(set(line) ^ wanted) if isinstance(line, dict) else None
        raise invalid(
            where, odd and ", ".join(odd), "lacks columns, or has others", ", ".join(sorted(wanted))
        )


def require_apart(model, rows):
    """Refuses spans that overlap before they are written: PostgreSQL itself would name the table only."""
    there = defaultdict(list)
    for number, row in enumerate(rows if issubclass(model, Span) else (), 1):
        alike = there[tuple(getattr(row, model._meta.get_field(name).attname) for name in model.alike)]
        other = row.begin is not None and next((one for one in alike if row.clashes_with(one)), None)
        if other:
            where = f"{file_of(model)} line {number}, {model.span[0]}"
            raise invalid(where, str(row.begin), other.overlap_words(), "one after the other")
        if row.begin is not None:
            alike.append(row)


def name_of(row):
    """The natural key of a row as an archive has it."""
    return str([plain(value) for value in row.natural_key()])


def stored(model, rows):
    """Rows written past the signals, which would begin a history of their own."""
    try:
        return model._default_manager.bulk_create(rows, batch_size=BATCH)
    except IntegrityError as refused:
        wrong = Problem(
            file_of(model), None, f"is refused by the database: {refused}", "rows as they went out"
        )
        raise Conflict(f"{file_of(model)}: is refused by the database.", wrong) from refused
