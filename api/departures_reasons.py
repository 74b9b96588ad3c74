"""Why a departure is not safe, in words, with the figures that the words rest on."""

from api.rounding import hours_down, hours_up, minute_up, nearest, written

MINUTE = 60.0
LIMITS = {
    "softened_share": "{:g} of it softens",
    "core_c": "its middle reaches {:g} °C",
    "mean_c": "it reaches {:g} °C on average",
    "warmest_c": "its warmest twentieth reaches {:g} °C",
}


def reason_of(departure, question):
    """{code, values, words} of an unsafe departure, null for a safe one."""
    code = departure.judgement.reason
    if code is None:
        return None
    values_of, words_of = REASONS[code]
    values = values_of(departure, question)
    return {"code": code, "values": values, "words": words_of(values)}


def limit_words(kind, value):
    return LIMITS[kind].format(value)


def _arrival(departure, question):
    """The latest hour of hand-over in nine cases of ten, or null where it is not handed over at all."""
    return written(minute_up(departure.after_closing(departure.judgement.window[-1])), question.zone)


def _hold_too_short(departure, question):
    judged = departure.judgement
    return {
        "hold_cautious_h": hours_down(judged.hold_cautious),
        "needed_h": hours_up(judged.window[-1]),
        "arrives_until": _arrival(departure, question),
    }


def _arrives_after_deadline(departure, question):
    return {
        "arrives_until": _arrival(departure, question),
        "deliver_by": written(question.deliver_by, question.zone),
    }


def _closed_too_early(departure, question):
    return {
        "closes_at": written(departure.closes_at, question.zone),
        "close_no_earlier_than": written(departure.close_no_earlier_than, question.zone),
    }


def _buyer_closed(departure, question):
    return {
        "buyer": question.buyer.name,
        "arrives_until": _arrival(departure, question),
        "hold_cautious_h": hours_down(departure.judgement.hold_cautious),
    }


def _start_too_warm(departure, question):
    return {
        "start_temperature_c": question.start_temperature_c,
        "limit_kind": departure.slot.standard.limit_kind,
        "limit_value": departure.slot.standard.limit_value,
    }


def _may_leave_late(departure, question):
    return {
        "departs_at": written(departure.slot.departs_at, question.zone),
        "latest_safe_departure_at": written(departure.latest_safe_departure, question.zone),
    }


def _misses_departure(departure, question):
    return {
        "closes_at": written(departure.closes_at, question.zone),
        "departs_at": written(departure.slot.departs_at, question.zone),
        "closing_lead_minutes": nearest(departure.slot.standard.lead / MINUTE, 1),
    }


def _on_clock(instant):
    """An instant as a sentence carries it: day and hour."""
    return f"{instant[:10]} {instant[11:16]}"


def _say_hold_too_short(values):
    held = f"The carton surely holds only {values['hold_cautious_h']:g} h"
    if values["needed_h"] is None:
        return f"{held}; the fish may not be taken in for days."
    if values["needed_h"] <= values["hold_cautious_h"]:
        return f"{held}; too often the fish needs longer than that."
    return f"{held}; the fish may need {values['needed_h']:g} h to the buyer's freezer."


def _say_arrives_after_deadline(values):
    wanted = _on_clock(values["deliver_by"])
    if values["arrives_until"] is None:
        return f"The fish may not be taken in by {wanted}, when it is wanted."
    return (
        f"The fish may be handed over only at {_on_clock(values['arrives_until'])}; it is wanted by {wanted}."
    )


def _say_closed_too_early(values):
    closed = f"Closed at {_on_clock(values['closes_at'])} the carton stands too long before it leaves"
    if values["close_no_earlier_than"] is None:
        return f"{closed}."
    return f"{closed}: close it no earlier than {_on_clock(values['close_no_earlier_than'])}."


def _say_buyer_closed(values):
    if values["arrives_until"] is None:
        return f"{values['buyer']} may be shut when the fish comes, and not open while the carton holds."
    until = _on_clock(values["arrives_until"])
    return f"{values['buyer']} may be shut when the fish comes, so that it waits outside until {until}."


def _say_start_too_warm(values):
    limit = limit_words(values["limit_kind"], values["limit_value"])
    return f"Fish at {values['start_temperature_c']:g} °C is too warm to travel: {limit} at once."


def _say_may_leave_late(values):
    return f"It often leaves late: safe only if it leaves by {_on_clock(values['latest_safe_departure_at'])}."


def _say_misses_departure(values):
    return (
        f"Closed at {_on_clock(values['closes_at'])} the carton is beside the vehicle "
        f"{values['closing_lead_minutes']:g} minutes later; "
        f"this one leaves at {_on_clock(values['departs_at'])}."
    )


REASONS = {
    "hold_too_short": (_hold_too_short, _say_hold_too_short),
    "arrives_after_deadline": (_arrives_after_deadline, _say_arrives_after_deadline),
    "closed_too_early": (_closed_too_early, _say_closed_too_early),
    "buyer_closed": (_buyer_closed, _say_buyer_closed),
    "start_too_warm": (_start_too_warm, _say_start_too_warm),
    "may_leave_late": (_may_leave_late, _say_may_leave_late),
    "misses_departure": (_misses_departure, _say_misses_departure),
}
