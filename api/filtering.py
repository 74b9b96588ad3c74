"""Filters of the lists: declared field by field, strict about what they are given."""

import django_filters
from django import forms

from api.question import one_of, refused, surplus
from coop.errors import Problem

LARGEST = 2**53
"""Whole numbers beyond this are no longer exact in JavaScript, so no id is."""


class Text(django_filters.CharFilter):
    """Some text within, whatever its case."""

    def __init__(self, **options):
        super().__init__(lookup_expr="icontains", max_length=100, **options)


class Slug(django_filters.CharFilter):
    """A short name or a code, as it stands."""

    def __init__(self, **options):
        super().__init__(max_length=64, **options)


class Whole(django_filters.Filter):
    """A whole number; django-filter's own NumberFilter lets 1.5 through and it becomes 1."""

    field_class = forms.IntegerField

    def __init__(self, *, least=1, most=LARGEST, **options):
        super().__init__(min_value=least, max_value=most, **options)


class Day(django_filters.DateFilter):
    def __init__(self, **options):
        super().__init__(input_formats=["%Y-%m-%d"], **options)


class CountsOn(Day):
    """Rows that count on a day, of what is dated from and until."""

    def filter(self, rows, day):
        return rows.on(day) if day else rows


class CountsFrom(Day):
    """Rows that count on a day or begin later, of what is dated from and until."""

    def filter(self, rows, day):
        return rows.counting_from(day) if day else rows


class DatedFilters(django_filters.FilterSet):
    """What every dated list is filtered by, beside its own."""

    on = CountsOn()
    from_date = CountsFrom()


class OneOf(django_filters.ChoiceFilter):
    def __init__(self, *words, **options):
        super().__init__(choices=[(word, word) for word in words], **options)


class Id(django_filters.UUIDFilter):
    """The id of something that a phone may have named."""


class Truth(django_filters.TypedChoiceFilter):
    """true or false; anything else is refused, where BooleanFilter would look away."""

    def __init__(self, **options):
        super().__init__(
            choices=(("true", "true"), ("false", "false")), coerce=lambda word: word == "true", **options
        )


def filtered(filters, request, rows, *, besides=()):
    """The rows that the parameters leave; `besides` names the parameters that others read."""
    query = request.query_params
    asked = filters(query, queryset=rows)
    problems = surplus(query, [*asked.filters, *besides])
    problems += [
        Problem(name, query[name], str(details[0]).rstrip("."), right_for(asked.form.fields[name]))
        for name, details in asked.form.errors.items()
        if query.get(name)
    ]
    if problems:
        raise refused(problems)
    return asked.qs


def right_for(field):
    """What a filter takes, in words a person can act on."""
    if isinstance(field, forms.ChoiceField):
        return one_of(word for word, _ in field.choices if word)
    if isinstance(field, forms.IntegerField):
        return f"a whole number from {field.min_value} to {field.max_value}"
    if isinstance(field, forms.DateField):
        return "a date such as 2026-03-02"
    if isinstance(field, forms.UUIDField):
        return "an id such as 7d9f1c1e-3f0a-4f0e-9c51-2f5b6a0d4c11"
    return f"a text of at most {field.max_length} letters"
