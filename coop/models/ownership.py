"""Whose a row is: everything belongs to one cooperative, except places, climate and species."""

from django.core.exceptions import ValidationError
from django.db import models

from coop.models.columns import Link
from coop.models.keys import Keyed, KeyedManager


class OwnedManager(KeyedManager):
    def of(self, cooperative):
        """Rows of one cooperative: the one door to them, as `tests/house` holds."""
        return self.filter(**{self.model.owned_through: cooperative})


class PartOfOwned(Keyed):
    """A row of something that is owned; `owned_through` is the way from it to its cooperative."""

    owned_through = None

    objects = OwnedManager()

    class Meta:
        abstract = True


class Owned(models.Model):
    owned_through = "cooperative"
    # Names of relations that must belong to the same cooperative; the database holds that too.
    within_cooperative = ()

    cooperative = Link(
        "coop.Cooperative", on_delete=models.PROTECT, related_name="%(class)ss", verbose_name="cooperative"
    )

    objects = OwnedManager()

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
