"""Reads what was asked: known parameters only, each once and in its range; a failure says what is right."""

import math

from rest_framework import serializers

from coop.errors import Invalid, Problem


class Number(serializers.FloatField):
    """A number within bounds: NaN and infinity pass the framework's comparisons, so they are refused here."""

    default_error_messages = {"not_finite": "is no number"}

    def to_internal_value(self, data):
        try:
            value = super().to_internal_value(data)
        except OverflowError:
            self.fail("not_finite")
        if not math.isfinite(value):
            self.fail("not_finite")
        return value


def read(serializer_class, request, *, besides=()):
    """What was asked, checked and with its defaults; raises Invalid with every problem at once.

    `besides` names parameters that somebody else reads.
    """
    question = serializer_class(context={"request": request})
    fields, query = question.fields, request.query_params
    many = [name for name, field in fields.items() if isinstance(field, serializers.ListField)]
    problems = surplus(query, [*fields, *besides], many=many)
    question.initial_data = {
        name: query.getlist(name) if name in many else query[name] for name in query if name in fields
    }
    if not question.is_valid():
        problems += unfit(question)
    if problems:
        raise refused(problems)
    return question.validated_data


def nothing_asked(request, besides=()):
    """Refuses every parameter but those that others read: one row takes none."""
    problems = surplus(request.query_params, besides)
    if problems:
        raise refused(problems)


def refused(problems):
    """All problems in one failure, its sentence about the first."""
    first = problems[0]
    more = f" (and {len(problems) - 1} more)" if len(problems) > 1 else ""
    return Invalid(f"{first.field}: {first.problem}{more}.", *problems)


def surplus(query, names, *, many=()):
    """Parameters that nobody reads, those given twice where one counts, and those without a value."""
    found = []
    for name, values in query.lists():
        if name not in names:
            right = one_of(names) if names else "no parameter at all"
            found.append(Problem(name, values[-1], "is not a parameter here", right))
        elif len(values) > 1 and name not in many:
            found.append(Problem(name, values, "is given more than once", "one value"))
        elif not all(values):
            found.append(Problem(name, "", "has no value", "a value, or not to name it"))
    return found


def unfit(question):
    """A problem for each parameter that its field refused; one without a value was named already."""
    problems = []
    for name, details in question.errors.items():
        field, value = question.fields.get(name), question.initial_data.get(name)
        if value != "":
            right = right_for(field) if field else "parameters that agree"
            problems.append(Problem(name, value, words(details), right))
    return problems


def words(details):
    """The first thing said about a field, as it can stand after its name."""
    while isinstance(details, dict | list):
        details = next(iter(details.values())) if isinstance(details, dict) else details[0]
    text = str(details).rstrip(".")
    return f"{text[:1].lower()}{text[1:]}"


def one_of(choices):
    return f"one of {', '.join(map(str, choices))}"


def bounds(field):
    """The bounds of a number in words."""
    low, high = getattr(field, "min_value", None), getattr(field, "max_value", None)
    if low is None and high is None:
        return ""
    if high is None:
        return f" from {low} up"
    return f" up to {high}" if low is None else f" from {low} to {high}"


RIGHT = (
    (serializers.BooleanField, "true or false"),
    (serializers.DateTimeField, "an instant such as 2026-03-02T16:00:00+02:00"),
    (serializers.DateField, "a date such as 2026-03-02"),
    (serializers.TimeField, "an hour such as 16:00"),
    (serializers.SlugField, "a short name of letters, digits and hyphens"),
    (serializers.UUIDField, "an id such as 7d9f1c1e-3f0a-4f0e-9c51-2f5b6a0d4c11"),
)


def right_for(field):
    """What a field takes, in words a person can act on."""
    if field.help_text:
        return str(field.help_text)
    if isinstance(field, serializers.ListField):
        return f"{right_for(field.child)}, once or several times"
    if isinstance(field, serializers.ChoiceField):
        return one_of(field.choices)
    if isinstance(field, serializers.IntegerField):
        return f"a whole number{bounds(field)}"
    if isinstance(field, serializers.FloatField):
        return f"a number{bounds(field)}"
    return next((text for kind, text in RIGHT if isinstance(field, kind)), "a text")
