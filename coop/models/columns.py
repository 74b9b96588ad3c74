"""Columns whose words stay out of the migrations: a better label or choice changes no table."""

from django.db import models

WORDS = frozenset({"verbose_name", "help_text", "validators", "choices"})


class Wordless:
    def deconstruct(self):
        # A migration names Django's own field, so that it never reaches into the models of today.
        name, _, arguments, options = super().deconstruct()
        plain = next(base for base in type(self).__mro__ if base.__module__.startswith("django.db.models"))
        kept = {option: value for option, value in options.items() if option not in WORDS}
        return name, f"django.db.models.{plain.__name__}", arguments, kept


class Text(Wordless, models.CharField):
    pass


class LongText(Wordless, models.TextField):
    pass


class Slug(Wordless, models.SlugField):
    pass


class Number(Wordless, models.FloatField):
    pass


class Whole(Wordless, models.IntegerField):
    pass


class Money(Wordless, models.BigIntegerField):
    pass


class YesNo(Wordless, models.BooleanField):
    pass


class Day(Wordless, models.DateField):
    pass


class Hour(Wordless, models.TimeField):
    pass


class Instant(Wordless, models.DateTimeField):
    pass


class Identity(Wordless, models.UUIDField):
    pass


class Numbers(Wordless, models.JSONField):
    pass


class Link(Wordless, models.ForeignKey):
    pass


class OneLink(Wordless, models.OneToOneField):
    pass
