"""Spans of days or hours of one thing that may not overlap; the last day is excluded, none is for ever."""

from django.core.exceptions import ValidationError
from django.db.models import Q

from coop.models.keys import Keyed


class Span(Keyed):
    """Two rows that agree in `alike` may not overlap; the database refuses it as well."""

    alike = ()
    span = ("begin", "end")
    # A form that saves several rows at once sets this, and compares the rows as they will be.
    compared_by_the_form = False

    class Meta:
        abstract = True

    def clean(self):
        super().clean()
        if self.compared_by_the_form or self.begin is None:
            return
        other = self.overlapping().order_by(self.span[0]).first()
        if other:
            raise ValidationError({self.span[0]: other.overlap_words()}, code="overlap")

    @property
    def begin(self):
        return getattr(self, self.span[0])

    @property
    def end(self):
        return getattr(self, self.span[1])

    def overlapping(self):
        """Other rows of the same thing that share a day or an hour with this one."""
        begins, ends = self.span
        same = [self._same(name) for name in self.alike]
        later = Q(**{f"{ends}__isnull": True}) | Q(**{f"{ends}__gt": self.begin})
        found = type(self).objects.filter(*same, later).exclude(pk=self.pk)
        return found.filter(**{f"{begins}__lt": self.end}) if self.end else found

    def clashes_with(self, other):
        """The same question between two rows at hand, stored or not."""
        names = [self._meta.get_field(name).attname for name in self.alike]
        apart = any(getattr(self, name) != getattr(other, name) for name in names)
        return not apart and begins_before(self.begin, other.end) and begins_before(other.begin, self.end)

    def overlap_words(self):
        """Why another row is refused beside this one."""
        until = f"until {self.end}" if self.end else "and goes on"
        return f"overlaps with the one from {self.begin} {until}: change that one first"

    def _same(self, name):
        value = getattr(self, self._meta.get_field(name).attname)
        return Q(**{f"{name}__isnull": True}) if value is None else Q(**{name: value})


def begins_before(begin, end):
    return end is None or begin < end
