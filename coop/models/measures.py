"""Numbers with a unit: one range serves the column, its form and the database."""

import math
from typing import NamedTuple

from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from coop.models.columns import Money, Number, Whole


class Range(NamedTuple):
    """Both ends are allowed."""

    low: float
    high: float


SHARE = Range(0, 1)
CELSIUS = Range(-60, 60)
MONTH = Range(1, 12)
# The coefficient of variation of a time: standard deviation over mean.
VARIATION = Range(0, 5)
MONEY_MINOR = Range(0, 1_000_000_000_000)
# What is owed is positive, what was paid is negative.
SIGNED_MONEY_MINOR = Range(-1_000_000_000_000, 1_000_000_000_000)


def finite(value):
    """NaN passes every comparison, so the two limits of a range would let it through."""
    if not math.isfinite(value):
        raise ValidationError("must be a number, is %(value)s", code="not_finite", params={"value": value})


def _of(field, label, span, help_text, options):
    validators = [finite, MinValueValidator(span.low), MaxValueValidator(span.high)]
    options.setdefault("blank", options.get("null", False))
    return field(label, validators=validators, help_text=help_text, **options)


def number(label, span, help_text="", **options):
    return _of(Number, label, span, help_text, options)


def whole(label, span, help_text="", **options):
    return _of(Whole, label, span, help_text, options)


def money(label, help_text, **options):
    return _of(Money, label, MONEY_MINOR, help_text, options)


def signed_money(label, help_text, **options):
    return _of(Money, label, SIGNED_MONEY_MINOR, help_text, options)


def ranges(table, **spans):
    """One named constraint a column: what the form refuses, the database refuses too."""
    return [
        models.CheckConstraint(
            condition=models.Q(**{f"{column}__gte": span.low, f"{column}__lte": span.high}),
            name=f"{table}_{column}_range",
        )
        for column, span in spans.items()
    ]


def known(table, **choices):
    """One named constraint a column that holds one word of a list."""
    return [
        models.CheckConstraint(
            condition=models.Q(**{f"{column}__in": words.values}), name=f"{table}_{column}_known"
        )
        for column, words in choices.items()
    ]


def rule(name, condition, message):
    """A rule over several columns, with the sentence that a form shows."""
    return models.CheckConstraint(condition=condition, name=name, violation_error_message=message)
