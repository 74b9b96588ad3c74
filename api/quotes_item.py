"""A quote as whoever sells it gets it, by its own copy of every figure."""

from zoneinfo import ZoneInfo

from api.cost_lines import NAMES
from api.refusal_words import told_here
from api.rounding import nearest, written
from coop.selectors.quotes_ladder import total_of


def quote_item(quote):
    """QuoteOut of a quote of quotes_of, or of a preview, by its own copy of every figure."""
    figures, supply = quote.figures, quote.supply
    zone = ZoneInfo(figures["time_zone"])
    is_kept = quote.pk is not None
    copied = ("chance_hard", "softened_share", "confidence", "step_kg", "currency", "currency_decimals")
    hours = ("closes_at", "latest_safe_departure_at", "arrives_from", "arrives_until")
    columns = ("issued_at", "valid_until", "departs_at", "answered_at", "revoked_at")
    plain = (
        "becomes",
        "language",
        "profit_kind",
        "profit_share",
        "least_kg",
        "most_kg",
        "accepted_kg",
        "note",
    )
    return {
        "id": str(quote.uuid) if is_kept else None,
        "state": quote.shown_state if is_kept else quote.state,
        "supply": supply_item(supply, quote, zone),
        **{name: figures[name] for name in ("buyer", "route", "carton_design")},
        "carrier": {name: figures["carrier"][name] for name in ("id", "name")},
        "made_by": {"id": quote.made_by_id, "name": quote.made_by.name},
        **{name: figures[name] for name in (*copied, *hours)},
        **{name: written(getattr(quote, name), zone) for name in columns},
        **{name: getattr(quote, name) for name in (*plain, "answered_by_name")},
        "limit": f"{figures['limit_kind']}:{figures['limit_value']:g}",
        "valid_until_because": {"subject": None, **figures["valid_until_because"]},
        "ladder": [step_item(step, figures) for step in figures["ladder"]],
        "lines": line_items(figures),
        "accepted_minor": total_of(figures, quote.accepted_kg) if quote.accepted_kg else None,
        "lot": quote.lot and str(quote.lot.uuid),
        "parcel": quote.parcel and str(quote.parcel.uuid),
        "questions": [question_item(one, zone) for one in (quote.questions.all() if is_kept else ())],
    }


def supply_item(supply, quote, zone):
    is_kept, species = quote.pk is not None, quote.figures["species"]
    return {
        "id": str(supply.uuid) if supply.pk else None,
        "member": quote.figures["member"],
        "species": {"code": species["code"], "name": species["name_en"]},
        "mass_kg": supply.mass_kg,
        "left_kg": nearest(quote.left_kg if is_kept else supply.mass_kg, 3),
        "frozen_since": written(supply.frozen_since, zone),
        "ready_at": written(supply.ready_at, zone),
        "start_temperature_c": supply.start_temperature_c,
        "lot": supply.lot and str(supply.lot.uuid),
    }


def step_item(step, figures):
    kept = ("from_kg", "to_kg", "price_minor_per_kg", "cartons", "cost_minor", "chance_hard")
    return {
        **{name: step[name] for name in kept},
        "from_total_minor": total_of(figures, step["from_kg"]),
    }


def line_items(figures):
    """Each line of the bill, at the weights at which the prices begin."""
    begins = {step["from_kg"] for step in figures["ladder"]}
    firsts = [rung["amounts_minor"] for rung in figures["rungs"] if rung["kg"] in begins]
    return [
        {"code": line["code"], "name": name_of(line), "amounts_minor": list(amounts)}
        for line, amounts in zip(figures["lines"], zip(*firsts, strict=True), strict=True)
    ]


def name_of(line):
    return line["name"] or NAMES.get(line["code"], line["code"])


def question_item(question, zone):
    return {"asked_at": written(question.asked_at, zone), "text": question.text}


def losing_item(losing):
    """LosingOut of a selectors' Losing."""
    return {
        "quote": quote_item(losing.quote),
        "kg": losing.kg,
        "loses_minor": losing.loses_minor,
        "loses_minor_per_kg": losing.loses_minor_per_kg,
        "why": [moved_item(line) for line in losing.why],
        "missing": told_here(losing.missing)["words"],
    }


def moved_item(line):
    name = line.name or NAMES.get(line.code, line.code)
    amounts = {"before_minor": line.before_minor, "after_minor": line.after_minor}
    return {"code": line.code, "name": name, **amounts}
