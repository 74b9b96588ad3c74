"""Rows known by what people call them: fixtures name them so, and never by a number that may be taken."""

from functools import reduce
from uuid import uuid4

from django.db import models

from coop.models.columns import Identity


class KeyedManager(models.Manager):
    def get_by_natural_key(self, *values):
        return self.get(**dict(zip(self.model.key_fields, values, strict=True)))


class Keyed(models.Model):
    key_fields = ()

    objects = KeyedManager()

    class Meta:
        abstract = True

    def natural_key(self):
        return tuple(reduce(getattr, path.split("__"), self) for path in self.key_fields)


class Identified(Keyed):
    """Rows that a phone may name before the server has them: the same name twice is the same row."""

    key_fields = ("uuid",)

    uuid = Identity("id", default=uuid4, unique=True, editable=False)

    class Meta:
        abstract = True
