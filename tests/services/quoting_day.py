"""A packing day on which quotes are made: what is asked for, and a supply of whichever fish."""

from datetime import timedelta

from coop.services.quotes import Fish, Wanted, make_quote
from tests.factories.parcels import DEPARTS_AT
from tests.services.packing_day import NOW


def fish(day, **changes):
    """60 kg of the owner's, ready since yesterday."""
    usual = {
        "member": day.owner,
        "species": day.species,
        "mass_kg": 60.0,
        "frozen_since": NOW - timedelta(days=2),
        "ready_at": NOW - timedelta(days=1),
        "start_temperature_c": -18.0,
    }
    return Fish(**(usual | changes))


def wanted(day, **changes):
    """A quarter on top of the cost, on Monday's departure."""
    usual = {
        "becomes": "lot",
        "buyer": day.buyer,
        "timetable": day.timetable,
        "date": DEPARTS_AT.date(),
        "design": day.design,
        "profit_kind": "mark_up",
        "profit_share": 0.25,
        "language": "en",
    }
    if not {"supply", "lot"} & set(changes):
        usual["fish"] = fish(day)
    return Wanted(**(usual | changes))


def quoted(day, by=None, now=NOW, **changes):
    """An issued quote with its secret."""
    return make_quote(by=by or day.owner, wanted=wanted(day, **changes), now=now)
