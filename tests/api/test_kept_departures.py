from datetime import UTC, datetime
from types import SimpleNamespace

from api.kept_departures import cheapest_first, first_paths, list_paths, timetable_path

NOW = datetime(2026, 3, 2, 14, tzinfo=UTC)
ASKED = "species=IRQ&mass_kg=20.5&start_temperature_c=-18&buyer=market"
LIST = f"/api/v1/departures/?route=south&from=2026-03-02&{ASKED}"


def slot(name, hour=16, *, carrier=1, price=900, chance=0.97, margin=3.0, safe=True):
    return {
        "id": name,
        "departs_at": f"2026-03-02T{hour}:00:00+02:00",
        "carrier": {"id": carrier},
        "route": {"slug": "south"},
        "safe": safe,
        "chance_hard": chance,
        "margin_h": margin,
        "cost_per_kg_minor": price,
    }


def names(slots):
    return [one["id"] for one in slots]


def test_of_one_vehicle_and_hour_the_cheapest_safe_carton_leads():
    dear, cheap = slot("dear", price=900), slot("cheap", price=800)
    soft = slot("soft", price=100, safe=False, chance=0.4)
    assert names(cheapest_first([dear, soft, cheap], 0.95)) == ["cheap"]
    assert names(cheapest_first([dear, slot("more", margin=5.0)], 0.95)) == ["more"]


def test_where_none_is_safe_the_likeliest_leads_and_comes_after_safe_ones():
    soft = [slot("soft", safe=False, chance=0.4, price=1), slot("softer", safe=False, chance=0.2, price=1)]
    assert names(cheapest_first([*soft, slot("safe", 17)], 0.95)) == ["safe", "soft"]


def test_cheap_comes_before_dear_and_what_has_no_price_last_of_the_safe_ones():
    slots = [slot("unpriced", 16, price=None), slot("dear", 17, price=9), slot("cheap", 18, price=8)]
    assert names(cheapest_first(slots, 0.95)) == ["cheap", "dear", "unpriced"]
    assert names(cheapest_first([slot("late", 18), slot("early", 17)], 0.95)) == ["early", "late"]


def test_a_chance_below_the_confidence_is_not_safe():
    assert names(cheapest_first([slot("a", 16, chance=0.96, price=1), slot("b", 17, chance=0.99)], 0.98)) == [
        "b",
        "a",
    ]


def test_four_come_in_full_two_when_sparing_and_none_that_has_left():
    slots = [slot(f"{n}-20260302-box", 16, carrier=n, price=n) for n in range(1, 7)]
    left = slot("9-20260302-box", 15, carrier=9, price=0)
    answer = {"results": [left, *slots], "question": {"confidence": 0.95}}
    paths = first_paths(answer, LIST, sparing=False, now=NOW)
    assert paths == [f"/api/v1/departures/{n}-20260302-box/?{ASKED}" for n in (1, 2, 3, 4)]
    assert first_paths(answer, LIST, sparing=True, now=NOW) == paths[:2]
    assert timetable_path(paths[0]) == "/api/v1/timetables/1/"


def test_the_usual_question_is_the_one_with_which_the_screens_begin(db):
    """As `startingQuestion` of frontend/src/question.js: the longest route, the first fish, a buyer there."""
    long = {
        "slug": "long",
        "destination": {"code": "lusaka"},
        "legs": [{"distance_km": 900}, {"distance_km": 100}],
    }
    short = {"slug": "short", "destination": {"code": "near"}, "legs": [{"distance_km": 950}]}
    lists = {
        "routes": [short, long],
        "species": [{"code": "LTM"}, {"code": "IRQ"}],
        "buyers": [
            {"slug": "near-by", "place": {"code": "near"}},
            {"slug": "far", "place": {"code": "lusaka"}},
        ],
    }
    documents = {f"/api/v1/{name}/?page_size=100": {"results": rows} for name, rows in lists.items()}
    person = SimpleNamespace(cooperative=SimpleNamespace(time_zone="Africa/Lusaka"))
    [path] = list_paths(documents, person)
    days, rest = path.split("&species=")
    assert days.startswith("/api/v1/departures/?route=long&from=20")
    assert rest == "LTM&mass_kg=80&start_temperature_c=-18&buyer=far&page_size=100"
    assert list_paths({}, person) == []
