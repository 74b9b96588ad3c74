"""To send fish by itself: now, or after some days in the freezer."""

from dataclasses import replace
from datetime import timedelta

from coop.selectors.departures import departures_for
from coop.selectors.packing import mass_fault
from coop.selectors.parcels import capacity_kg
from coop.selectors.usable_cartons import fault_of_design
from coop.selectors.ways_question import ALONE, NO_PRICE, WAIT, Known, Way, dearness

NOW_DAYS = 3
"""Days from the one on which fish is ready that count as now; what leaves later is waiting."""
FITS_NO_CARTON, NO_DEPARTURE, NO_SAFE_DEPARTURE = "fits_no_carton", "no_departure", "no_safe_departure"
NO_PLACES = "no_places"


def alone_and_wait(known: Known) -> tuple[Way, Way]:
    """The cheapest safe departure with own cartons now, and in the days after that."""
    question = known.question
    designs, fault = usable_designs(question)
    if not designs:
        right = fault and fault.right
        nowhere = Way(ALONE, reason=FITS_NO_CARTON, values={"mass_kg": question.mass_kg, "right": right})
        return nowhere, replace(nowhere, way=WAIT)
    found = [
        one
        for one in departures_for(question.about(designs=designs))
        if one.slot.closes_at >= question.ready_at
    ]
    later_from = question.first_day + timedelta(days=NOW_DAYS)
    now, later = (
        [one for one in found if (one.slot.departs_at.date() >= later_from) == late] for late in (0, 1)
    )
    return _cheapest(known, ALONE, now), filled_up(known, _cheapest(known, WAIT, later))


def usable_designs(question):
    """Designs in which this fish can travel by itself, and what is wrong with the first that cannot."""
    faults = {
        design: fault_of_design(design, question.species)
        or mass_fault(design, question.mass_kg, places=max(1, round(question.mass_kg)))
        for design in question.designs
    }
    fitting = tuple(design for design, fault in faults.items() if fault is None)
    return fitting, next((fault for fault in faults.values() if fault), None)


def _cheapest(known, way, departures):
    """The Way of the cheapest of some departures, or why there is none."""
    if not departures:
        return Way(way, reason=NO_DEPARTURE, values={})
    safe = [one for one in departures if one.is_safe]
    if not safe:
        best = max(one.judgement.chance_hard for one in departures)
        return Way(way, reason=NO_SAFE_DEPARTURE, values={"chance_hard": best})
    placed = [one for one in safe if known.has_places(one.slot, one.cartons)]
    if not placed:
        return Way(way, reason=NO_PLACES, values={})
    trips = [alone_trip(known, one) for one in placed if one.bill.cost]
    if not trips:
        return Way(way, reason=NO_PRICE, values={"cost_missing": list(placed[0].bill.missing)})
    return Way(way, min(trips, key=dearness))


def alone_trip(known, departure, *, mass_kg=None):
    """Trip of all the fish of a departure of departures_for, whose bill has the expected loss in it."""
    softening = [line.amount_minor for line in departure.bill.cost.lines if line.code == "softening"]
    return known.trip(departure, departure.bill.cost.total - sum(softening), mass_kg=mass_kg)


def filled_up(known, way):
    """A Way with what fills its cartons, and what a kilogram costs if that comes together."""
    if way.trip is None:
        return way
    planned = way.trip.departure
    full = planned.cartons * capacity_kg(planned.design)
    missing = round(full - known.question.mass_kg, 1)
    if missing <= 0:
        return replace(way, kg_missing=0.0)
    day = planned.slot.departs_at.date()
    asked = known.question.about(mass_kg=full, designs=(planned.design,), first_day=day, last_day=day)
    same = (one for one in departures_for(asked) if one.slot == planned.slot)
    each = next((alone_trip(known, one, mass_kg=full).cost_per_kg_minor for one in same if one.is_safe), None)
    return replace(way, kg_missing=missing, filled_per_kg_minor=each)
