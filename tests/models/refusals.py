"""The database refuses, whatever the forms would have said: rows reach it here without clean()."""

from contextlib import contextmanager
from copy import copy
from importlib import import_module
from pkgutil import iter_modules

import factory
import pytest
from django.apps import apps
from django.db import IntegrityError, models, transaction
from django.db.models.base import ModelState

import tests.factories


@contextmanager
def refused(words):
    """What is inside is refused by the database in these words: the name of the rule."""
    with pytest.raises(IntegrityError, match=words), transaction.atomic():
        yield


def change(row, **columns):
    """Writes columns of a stored row past its clean()."""
    assert type(row).objects.filter(pk=row.pk).update(**columns) == 1


def twin(row, **columns):
    """Stores a copy of a row with other values, past its clean()."""
    return type(row).objects.bulk_create([unsaved_twin(row, **columns)])[0]


def unsaved_twin(row, **columns):
    other = copy(row)
    other._state = ModelState()
    for name, value in {"pk": None, **columns}.items():
        setattr(other, name, value)
    return other


def checks(ending=""):
    """(model, constraint) of every named check of every table."""
    return [
        pytest.param(model, constraint, id=constraint.name)
        for model in apps.get_app_config("coop").get_models()
        for constraint in model._meta.constraints
        if isinstance(constraint, models.CheckConstraint) and constraint.name.endswith(ending)
    ]


def stored(model):
    """A row of this table by its plainest factory."""
    names = [found.name for found in iter_modules(tests.factories.__path__)]
    modules = [import_module(f"tests.factories.{name}") for name in names]
    made = [one for module in modules for one in vars(module).values() if is_factory_of(model, one)]
    return min(made, key=lambda one: len(one.__mro__))()


def is_factory_of(model, one):
    return isinstance(one, type) and issubclass(one, factory.Factory) and one._meta.model is model
