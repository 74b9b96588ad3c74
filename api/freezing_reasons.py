"""Why fish is not frozen as wanted, in words, with the figures that the words rest on."""

from api.rounding import up, written
from coop.selectors.freezing import FREEZER_TOO_WARM


def reason_of(found, question):
    """{code, values, words} of fish that is not ready, null for fish that is."""
    if found.reason is None:
        return None
    return (_too_warm if found.reason == FREEZER_TOO_WARM else _not_frozen)(found, question)


def _too_warm(found, question):
    air = question.freezer.air_temperature_c
    return {
        "code": found.reason,
        "values": {"air_temperature_c": air, "core_c": question.core_c},
        "words": f"The air in it is {air:g} °C: fish never comes down to {question.core_c:g} °C there.",
    }


def _not_frozen(found, question):
    ready_at = written(found.ready_at, question.zone)
    core = up(found.core_at_closing_c, 1)
    surely = "is not surely frozen through" if core is None else f"may still be at {core:g} °C in its middle"
    hour = f"{ready_at[:10]} {ready_at[11:16]}"
    return {
        "code": found.reason,
        "values": {"core_at_closing_c": core, "core_c": question.core_c, "ready_at": ready_at},
        "words": f"When the carton is closed the fish {surely}; it is at {question.core_c:g} °C by {hour}.",
    }
