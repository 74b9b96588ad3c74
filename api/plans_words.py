"""Why a lot stays behind, in words, with the figures that the words rest on."""

REASONS = {
    "no_departure": "Nothing leaves in these days that can still be closed for.",
    "not_ready": "It is ready only at {ready_at}; the last carton is closed at {last_closing}.",
    "misses_deadline": "It is wanted by {deadline}; it may be there only at {earliest_hand_over}.",
    "not_safe": "On no departure of these days would it surely arrive hard.",
    "too_heavy": "It weighs {mass_kg:g} kg, a carton holds {most_kg:g} kg, and it may not be split.",
    "too_bulky": "It takes {volume_m3:g} m³; a carton has {most_m3:g} m³.",
    "no_room": "No carton of these days has room for it.",
    "costs_more_than_worth": "Sending it would cost more than it is worth.",
    "too_little_to_stay_hard": "{mass_kg:g} kg are too little: to stay hard it takes {least_mass_kg:g} kg.",
    "may_not_share": "Only cartons with fish that it may not lie beside have room.",
    "not_safe_together": "The carton that it was meant for would not surely arrive hard as it is filled.",
}
NEVER = "It is wanted by {deadline}; no departure of these days surely brings it at all."


def words_of(code, values):
    """What a code of the solver says with its figures; an hour that never comes is null."""
    words = NEVER if code == "misses_deadline" and values["earliest_hand_over"] is None else REASONS[code]
    return words.format(**{name: on_clock(value) for name, value in values.items()})


def on_clock(value):
    """An instant as a sentence carries it: day and hour."""
    return f"{value[:10]} {value[11:16]}" if isinstance(value, str) else value
