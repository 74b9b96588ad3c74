"""Rows with spans edited together: they are compared as they will be, not with what is stored."""

from itertools import combinations

from django.core.exceptions import ValidationError
from django.forms import BaseInlineFormSet


class SpanFormSet(BaseInlineFormSet):
    """Lets one save end the old price and begin the new one."""

    def _construct_form(self, i, **named):
        form = super()._construct_form(i, **named)
        form.instance.compared_by_the_form = True
        return form

    def clean(self):
        super().clean()
        kept = [form for form in self.forms if self._is_kept(form)]
        for one, other in combinations(kept, 2):
            if one.instance.clashes_with(other.instance):
                wrong = one if one.has_changed() else other
                words = (other if wrong is one else one).instance.overlap_words()
                wrong.add_error(wrong.instance.span[0], ValidationError(words, code="overlap"))

    def _is_kept(self, form):
        there = form.instance.pk or form.has_changed()
        return there and not self._should_delete_form(form) and form.is_valid()

    @property
    def deleted_forms(self):
        # Django keeps the places of these in the list, which another order would turn into other rows.
        return [form for form in self.forms if self._should_delete_form(form)] if self.is_valid() else []

    def save_existing_objects(self, commit=True):
        # What goes or shrinks is saved first: it makes room for what grows.
        forms, count = self.forms, self.initial_form_count()
        self.forms = [*sorted(forms[:count], key=self._turn), *forms[count:]]
        try:
            return super().save_existing_objects(commit)
        finally:
            self.forms = forms

    def _turn(self, form):
        return 0 if self._should_delete_form(form) else 1 + grows(form)


def grows(form):
    """Whether a row begins sooner or ends later than it is stored."""
    begin, end = form.instance.span
    was_end, is_end = form.initial[end], form.instance.end
    ends_later = was_end is not None and (is_end is None or is_end > was_end)
    return form.instance.begin < form.initial[begin] or ends_later
