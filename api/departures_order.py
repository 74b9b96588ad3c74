"""Which departures of an answer are shown, and in what order."""

import math


def upcoming(departures, now, closes_at):
    """Those that can still be caught: what is closed in time counts by its closing, else by its departure."""
    if closes_at is None:
        return [one for one in departures if one.closes_at >= now]
    return [one for one in departures if one.slot.departs_at >= now]


def kept(departures, asked, carrier):
    """What the filters leave. What has no cost is not known to be cheap enough."""
    cheapest, surest = asked.get("max_cost_per_kg", math.inf), asked.get("min_chance", 0.0)
    return [
        one
        for one in departures
        if carrier in (None, one.slot.carrier)
        and asked.get("safe") in (None, one.is_safe)
        and one.judgement.chance_hard >= surest
        and ("max_cost_per_kg" not in asked or (cost_per_kg(one) or math.inf) <= cheapest)
    ]


def ordered(departures, ordering):
    """In the order of a word; a minus turns it round, and what has no value comes last either way."""
    name, turned = ordering.lstrip("-"), ordering.startswith("-")
    value = VALUES[name]
    # The list comes by departure: a stable sort keeps that among equals.
    known = [(value(one), one) for one in departures]
    some = sorted((pair for pair in known if pair[0] is not None), key=lambda pair: pair[0], reverse=turned)
    return [one for _, one in some] + [one for found, one in known if found is None]


def cost_per_kg(departure):
    cost = departure.bill.cost
    return cost and cost.per_kilogram


def margin(departure):
    found = departure.judgement.margin
    return found if math.isfinite(found) else None


VALUES = {
    "departs_at": lambda one: one.slot.departs_at,
    "cost_per_kg": cost_per_kg,
    "chance_hard": lambda one: one.judgement.chance_hard,
    "margin_h": margin,
    "latest_safe_departure_at": lambda one: one.latest_safe_departure,
}
