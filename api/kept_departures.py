"""Which departures a phone keeps: of the usual question or the holder's own, and the first of them in full.

The same as the screens ask of themselves: `frontend/src/question.js` has the question that nobody has asked
yet, and `frontend/src/chance.js` the order in which departures are most likely opened.
"""

from datetime import datetime, timedelta
from math import inf
from urllib.parse import parse_qsl, quote, urlencode

from api.cooperative import today_of
from api.kept_paths import ALL, START
from api.kept_question import DEPARTURES

USUAL_KG, USUAL_START_C, USUAL_DAYS = 80, -18, 4
ABOUT_ONE = ("species", "mass_kg", "start_temperature_c", "buyer")
IN_FULL, IN_FULL_SPARING = 4, 2
LEFT_ALREADY = timedelta(minutes=30)
USUAL_CONFIDENCE = 0.95


def list_paths(documents, person):
    """The path of the question with which the screens begin; none where something for it is missing."""
    routes, species, buyers = (
        documents.get(f"{START}{name}/{ALL}", {}).get("results") for name in ("routes", "species", "buyers")
    )
    if not (routes and species and buyers):
        return []
    route = max(routes, key=lambda one: sum(leg["distance_km"] for leg in one["legs"]))
    there = [one for one in buyers if code_of(one["place"]) == code_of(route["destination"])] or buyers
    first = today_of(person.cooperative)
    asked = {
        "route": route["slug"],
        "from": first,
        "to": first + timedelta(days=USUAL_DAYS - 1),
        "species": species[0]["code"],
        "mass_kg": USUAL_KG,
        "start_temperature_c": USUAL_START_C,
        "buyer": there[0]["slug"],
    }
    return [f"{DEPARTURES}{urlencode(asked)}&page_size=100"]


def code_of(place):
    return place["code"] if isinstance(place, dict) else place


def first_paths(answer, path, *, sparing, now):
    """Paths of the departures of a list that come in full: the cheapest safe ones that have not left."""
    coming = [
        one for one in answer["results"] if datetime.fromisoformat(one["departs_at"]) > now - LEFT_ALREADY
    ]
    leads = cheapest_first(coming, answer["question"].get("confidence", USUAL_CONFIDENCE))
    asked = dict(parse_qsl(path.partition("?")[2]))
    query = urlencode({name: asked[name] for name in ABOUT_ONE if name in asked})
    ids = [quote(one["id"]) for one in leads[: IN_FULL_SPARING if sparing else IN_FULL]]
    return [f"{START}departures/{one}/?{query}" for one in ids]


def timetable_path(path):
    """The path of the timetable of a departure in full: a quote that is made from one names its way."""
    timetable = path.removeprefix(f"{START}departures/").partition("-")[0]
    return f"{START}timetables/{timetable}/"


def cheapest_first(slots, confidence):
    """The carton to take first of each vehicle and hour; safe ones before others, cheap before dear."""
    groups = {}
    for slot in slots:
        key = (slot["departs_at"], slot["carrier"]["id"], slot["route"]["slug"])
        groups.setdefault(key, []).append(slot)
    leads = [lead_of(group, confidence) for group in groups.values()]
    return sorted(
        leads,
        key=lambda one: (
            not is_safe(one, confidence),
            price_of(one),
            datetime.fromisoformat(one["departs_at"]),
        ),
    )


def lead_of(slots, confidence):
    """The cheapest safe one with a price, of equals the one with more hours to spare; else the likeliest."""
    safe = [one for one in slots if is_safe(one, confidence) and one["cost_per_kg_minor"] is not None]
    if safe:
        return min(safe, key=lambda one: (price_of(one), -one["margin_h"]))
    return max(slots, key=lambda one: one["chance_hard"])


def is_safe(slot, confidence):
    return slot["safe"] and slot["chance_hard"] >= confidence


def price_of(slot):
    return inf if slot["cost_per_kg_minor"] is None else slot["cost_per_kg_minor"]
