"""Questions of the worked-out answers as a phone sends them, on the small trade of the factories."""

FISH = {"mass_kg": "80", "start_temperature_c": "-18"}
DAY = "2026-03-02"
"""A Monday."""


def of_list(trade, **changes):
    """Parameters of departures/ for one day; None leaves one out."""
    asked = {"route": trade.route.slug, "from": DAY, "to": DAY, **of_one(trade)} | changes
    return {name: value for name, value in asked.items() if value is not None}


def of_one(trade, **changes):
    """Parameters of departures/<id>/."""
    asked = {"species": trade.species.code, **FISH} | changes
    return {name: value for name, value in asked.items() if value is not None}


def of_reckoning(trade, **changes):
    """Parameters of departures/<id>/reckoning/: any fish of a species."""
    return of_one(trade, **(dict.fromkeys(FISH) | changes))


def of_hold(trade, **changes):
    asked = {"carton_design": trade.design.slug, "outside_max_c": "29", "outside_min_c": "17"}
    return of_one(trade, **(asked | changes))


def of_freezing(trade, **changes):
    """Parameters of freezing/: single fish put in on Sunday morning, packed on Monday afternoon."""
    asked = {
        "freezer": "chest",
        "species": trade.species.code,
        "mass_kg": "20",
        "shape": "ellipsoid",
        "thickness_cm": "5",
        "width_cm": "9",
        "length_cm": "35",
        "warm_temperature_c": "24",
        "put_in_at": "2026-03-01T06:00:00+02:00",
        "closes_at": "2026-03-02T15:20:00+02:00",
    } | changes
    return {name: value for name, value in asked.items() if value is not None}


def of_ways(trade, **changes):
    """Parameters of ways/: 20 kg that are ready now."""
    return of_one(trade, **({"route": trade.route.slug, "mass_kg": "20"} | changes))


def of_cost(trade, **changes):
    asked = {
        "route": trade.route.slug,
        "carrier": str(trade.carrier.pk),
        "carton_design": trade.design.slug,
        "on": DAY,
        "start_temperature_c": None,
    }
    return of_one(trade, **(asked | changes))


def name_of(trade, day=DAY, design=None):
    """The id of the departure of a day."""
    return f"{trade.timetable.pk}-{day.replace('-', '')}-{(design or trade.design).slug}"


def fields_of(answer):
    """(field, value) of every problem of a refusal."""
    return [(one["field"], one["value"]) for one in answer["error"]["fields"]]


def ids(answer):
    return [row["id"] for row in answer["results"]]
