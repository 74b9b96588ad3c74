"""Rows known by what people call them: fixtures name them so, and never by a number that may be taken."""

from functools import reduce

from django.db import models


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
