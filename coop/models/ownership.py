"""Whose a row is: everything belongs to one cooperative, except places, climate and species."""

from django.core.exceptions import ValidationError
from django.db import models

from coop.models.columns import Link


class Owned(models.Model):
    # Names of relations that must belong to the same cooperative; the database holds that too.
    within_cooperative = ()

    cooperative = Link(
        "coop.Cooperative", on_delete=models.PROTECT, related_name="%(class)ss", verbose_name="cooperative"
    )

    class Meta:
        abstract = True

    def clean(self):
        super().clean()
        problems = {name: self._stranger(name) for name in self.within_cooperative}
        problems = {name: words for name, words in problems.items() if words}
        if problems:
            raise ValidationError(problems, code="other_cooperative")

    def _stranger(self, name):
        if not self.cooperative_id or not getattr(self, self._meta.get_field(name).attname):
            return None
        other = getattr(self, name)
        return (
            None if other.cooperative_id == self.cooperative_id else f"{other} belongs to another cooperative"
        )
