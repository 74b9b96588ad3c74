"""Fields of questions that more than one view asks, and the rows that their words stand for."""

import math
from datetime import UTC, datetime

from rest_framework import serializers

from api.question import Number, one_of
from coop.errors import invalid

EARLIEST, LATEST = 2000, 2100
LIMITS = {
    "softened_share": (0.001, 0.5),
    "core_c": (-40.0, -0.5),
    "mean_c": (-40.0, -0.5),
    "warmest_c": (-40.0, -0.5),
}
"""What a limit may be set on, and between which values; as the buyers' limits are stored."""
LARGEST = 2**53
MOST_NAMED = 30
MOST_NOTED = 500


class Instant(serializers.CharField):
    """An instant with its offset from UTC: an hour without one is another hour elsewhere."""

    default_error_messages = {"no_instant": "is no instant with an offset"}

    def __init__(self, **options):
        options.setdefault("help_text", "an instant such as 2026-03-02T16:00:00+02:00")
        super().__init__(**options)

    def to_internal_value(self, data):
        try:
            instant = datetime.fromisoformat(super().to_internal_value(data))
        except ValueError:
            self.fail("no_instant")
        if instant.tzinfo is None or not EARLIEST <= instant.year <= LATEST:
            self.fail("no_instant")
        return instant.astimezone(UTC)


class Note(serializers.CharField):
    """Words that somebody may leave, or has to: `wanted` says what they should tell then."""

    def __init__(self, *, wanted=None, **options):
        left_out = {"help_text": wanted} if wanted else {"allow_blank": True, "default": ""}
        super().__init__(**{"max_length": MOST_NOTED, **left_out, **options})


class Closing(Instant):
    """An instant, or `late` for as late as the departure lets it be: then nothing is read."""

    def __init__(self, **options):
        help_text = "late, or an instant such as 2026-03-02T16:00:00+02:00"
        super().__init__(help_text=help_text, **options)

    def to_internal_value(self, data):
        return None if data == "late" else super().to_internal_value(data)


class Limit(serializers.CharField):
    """What the fish must keep, such as softened_share:0.05, read as kind and value."""

    default_error_messages = {"no_limit": "is no limit"}

    def __init__(self, **options):
        right = ", ".join(f"{kind}:{low:g} to {high:g}" for kind, (low, high) in LIMITS.items())
        super().__init__(help_text=f"one of {right}", **options)

    def to_internal_value(self, data):
        kind, _, text = super().to_internal_value(data).partition(":")
        try:
            value = float(text)
        except ValueError:
            self.fail("no_limit")
        low, high = LIMITS.get(kind, (math.inf, -math.inf))
        if not low <= value <= high:
            self.fail("no_limit")
        return kind, value


class Day(serializers.DateField):
    """A day of this century: the calendar ends, and so do prices."""

    default_error_messages = {"no_day": f"is not between {EARLIEST} and {LATEST}"}

    def __init__(self, **options):
        super().__init__(input_formats=["%Y-%m-%d"], **options)

    def to_internal_value(self, value):
        day = super().to_internal_value(value)
        if not EARLIEST <= day.year <= LATEST:
            self.fail("no_day")
        return day


class FishQuestion(serializers.Serializer):
    """The fish, as everything that is worked out needs to know it."""

    species = serializers.CharField(max_length=3, help_text="three letters of FAO ASFIS such as IRQ")
    mass_kg = Number(min_value=0.1, max_value=100_000)
    start_temperature_c = Number(
        min_value=-40, help_text="°C of the fish when the carton is closed, from -40 to where it softens"
    )


def confidence_field():
    return Number(min_value=0.5, max_value=0.999, required=False)


def chosen(rows, field, value, *, key="slug"):
    """The row of ours that a word names; another cooperative's is as unknown as none at all."""
    rows = list(rows)
    found = next((row for row in rows if getattr(row, key) == value), None)
    if found is None:
        raise invalid(field, value, "is not known", named(getattr(row, key) for row in rows))
    return found


def named(words):
    """What would have been right, not longer than a person reads."""
    words = list(words)
    if not words:
        return "nothing yet: none is stored"
    return one_of([*words[:MOST_NAMED], *(["…"] if len(words) > MOST_NAMED else [])])


def require_hard(start_temperature_c, softens_at):
    if start_temperature_c >= softens_at:
        right = f"colder than {math.floor(softens_at * 10) / 10:g} °C: freeze it first"
        raise invalid("start_temperature_c", start_temperature_c, "is already soft", right)
