"""What is said of a way: why it cannot be gone, or what going it means."""

from api.rounding import down

NOTHING = "Nothing to choose from is known."
KEPT_APART_WORDS = "The open carton holds fish that may not share a carton with {species}."
REASONS = {
    "no_departure": "Nothing leaves on these days.",
    "no_safe_departure": "No departure is safe: at best the fish stays hard {chance_hard:.0%} of the time.",
    "no_places": "The vehicles that are safe have no place left.",
    "no_price": "What it costs cannot be named: {cost_missing} is missing.",
    "no_open_parcel": "No shared carton is open, and no other fish waits for one.",
    "no_room": "No shared carton has room for {mass_kg:g} kg: {room_kg:g} kg are left.",
    "kept_apart": KEPT_APART_WORDS,
    "not_safe_together": "With this fish the shared carton is not safe: hard {chance_hard:.0%} of the time.",
}
MEANS = {
    "alone": "Own cartons on the next cheap and safe departure.",
    "wait": "The fish stays in the freezer and leaves later, by itself.",
    "share": "One carton with others; the cooperative's rule says who pays what.",
}


def reason_of(way):
    """{code, values, words} of a way that cannot be gone, null for one that can."""
    if way.reason is None:
        return None
    values = dict(way.values)
    if "chance_hard" in values:
        values["chance_hard"] = down(values["chance_hard"], 3)
    return {"code": way.reason, "values": values, "words": words_of(way.reason, values)}


def words_of(code, values):
    if code == "fits_no_carton":
        return fits_no_carton(values)
    said = {**values, "cost_missing": ", ".join(values.get("cost_missing", ()))}
    return REASONS[code].format(**said)


def fits_no_carton(values):
    if values["right"] is None:
        return NOTHING
    return f"{values['mass_kg']:g} kg cannot travel alone: right is {values['right']}."


def means(way):
    """One sentence on a way: the reason if it cannot be gone."""
    reason = reason_of(way)
    return reason["words"] if reason else MEANS[way.way]
