"""All that a cooperative owns, table by table, as plain values; rows are named by what people call them.

A row that points at another names it by its natural key. Histories also name rows that are gone: those are
numbered, for nothing else of them is left. Lines come in the order in which they were written.
"""

from datetime import date, datetime, time
from uuid import UUID

from django.apps import apps
from django.db.models import JSONField

from coop.errors import Conflict
from coop.models import Climate, Cooperative, Place, Species
from coop.selectors.archive_texts import named_inside, with_names

SHARED = (Place, Climate, Species)
"""They belong to nobody; those that the cooperative uses travel with it."""
LEFT_OUT = {
    "CalendarLink": "secret addresses of calendars",
    "EnrolmentCode": "one-time codes",
    "Kept": "what phones were given",
    "PhoneToken": "tokens of phones",
    "Write": "answers that phones may ask for once more",
}
SECRETS = {
    ("Member", "account"): "accounts with their passwords",
    ("Quote", "secret_digest"): "links of quotes",
}
"""Columns that nobody takes elsewhere; what must be there is drawn anew when an archive comes in."""


def tables():
    """Models of an archive, what is pointed at before what points at it, histories last."""
    models = [model for model in apps.get_app_config("coop").get_models() if model.__name__ not in LEFT_OUT]
    plain = sorted((model for model in models if not is_history(model)), key=lambda model: model.__name__)
    found = []
    while plain:
        ready = [model for model in plain if not targets(model) & set(plain) - {model}]
        found += ready
        plain = [model for model in plain if model not in ready]
    return found + sorted(filter(is_history, models), key=lambda model: model.__name__)


def is_history(model):
    return hasattr(model, "instance_type")


def targets(model):
    related = {field.related_model for field in model._meta.concrete_fields if field.is_relation}
    return related | named_inside(model.__name__)


def columns(model):
    """Fields of a model that travel: not the numbers of its rows, and no secret."""
    kept = {"history_id"} if is_history(model) else {model._meta.pk.name}
    fields = (field for field in model._meta.concrete_fields if field.name not in kept)
    return [field for field in fields if (model.__name__, field.name) not in SECRETS]


class Belongings:
    """Rows of a cooperative by table and number, and the names by which an archive knows them."""

    def __init__(self, cooperative):
        self.cooperative, self.rows = cooperative, {}
        for model in tables():
            if model not in SHARED and not is_history(model):
                self.rows[model] = {row.pk: row for row in owned(model, cooperative)}
        self.rows |= shared_rows(self.rows)
        self.histories = {model: self.history_rows(model) for model in tables() if is_history(model)}
        self.gone = self.gone_rows()
        self.keys = {model: self.keys_of(model) for model in self.rows}

    def lines(self, model):
        """Plain values of the rows of a table, in the order of their numbers; of what is shared by name."""
        if is_history(model):
            return [self.history_line(model, row) for row in self.histories[model]]
        rows = self.rows[model].values()
        if model in SHARED:
            rows = sorted(rows, key=lambda row: self.keys[model][row.pk])
        return [self.line(model, row) for row in rows]

    def line(self, model, row):
        return {field.name: self.value(model, field, row) for field in columns(model)}

    def value(self, model, field, row):
        value = getattr(row, field.attname)
        if field.is_relation:
            return None if value is None else self.keys[field.related_model][value]
        if isinstance(field, JSONField):
            return with_names(model.__name__, field.name, value, self)
        return plain(value)

    def history_line(self, model, row):
        """A record points by {"key": …} at what is there, by {"gone": n} at what is not."""
        found = {}
        for field in columns(model):
            value = getattr(row, field.attname)
            target = model.instance_type if field.name == "id" else field.related_model
            if target is None:
                found[field.name] = plain(value)
            else:
                found[field.name] = None if value is None else self.named(target, value)
        return found

    def named(self, model, pk):
        if pk in self.keys.get(model, {}):
            return {"key": self.keys[model][pk]}
        return {"gone": self.gone[model].index(pk) + 1}

    def history_rows(self, model):
        """Records of rows that are there, and of those that are gone."""
        step, *rest = model.instance_type.owned_through.split("__")
        field = model._meta.get_field(step)
        among = self.ids(field.related_model) if rest else [self.cooperative.pk]
        return list(model.objects.filter(**{f"{field.attname}__in": among}).order_by("pk"))

    def ids(self, model):
        """Numbers of all rows of a table that ever were, as far as its history knows."""
        found = set(self.rows.get(model, ()))
        if hasattr(model, "history"):
            found |= {row.id for row in self.history_rows(model.history.model)}
        return found

    def gone_rows(self):
        """Numbers, by table and in order, that histories name and that are there no more."""
        named = {}
        for model, rows in self.histories.items():
            for field in columns(model):
                target = model.instance_type if field.name == "id" else field.related_model
                if target is not None:
                    named.setdefault(target, set()).update(getattr(row, field.attname) for row in rows)
        return {
            model: sorted(pk for pk in found if pk is not None and pk not in self.rows.get(model, {}))
            for model, found in named.items()
        }

    def keys_of(self, model):
        keys = {
            pk: [self.walk(row, path) for path in model.key_fields] for pk, row in self.rows[model].items()
        }
        if len({str(key) for key in keys.values()}) < len(keys):
            raise Conflict(
                f"Two rows of {model._meta.verbose_name_plural} have the same name: rename one first."
            )
        return keys

    def walk(self, row, path):
        """A value along a path of relations, among rows that were read already."""
        for name in path.split("__"):
            if row is None:
                return None
            field = row._meta.get_field(name)
            value = getattr(row, field.attname)
            row = self.rows[field.related_model].get(value) if field.is_relation else plain(value)
        return row


def owned(model, cooperative):
    if model is Cooperative:
        return Cooperative.objects.filter(pk=cooperative.pk)
    return model.objects.of(cooperative).order_by("pk")


def shared_rows(rows):
    """Places with their climate and species that rows of a cooperative point at."""
    used = {model: set() for model in SHARED}
    for model, found in rows.items():
        for field in model._meta.concrete_fields:
            if field.is_relation and field.related_model in used:
                used[field.related_model].update(getattr(row, field.attname) for row in found.values())
    climates = Climate.objects.filter(place__in=used[Place])
    return {
        Place: Place.objects.in_bulk(used[Place]),
        Climate: {row.pk: row for row in climates},
        Species: Species.objects.in_bulk(used[Species]),
    }


def plain(value):
    """A value as JSON has it, to the microsecond."""
    if isinstance(value, datetime | date | time):
        return value.isoformat()
    return str(value) if isinstance(value, UUID) else value
