"""A proposal as it is kept and shown: plain values, each consignment billed again exactly."""

from dataclasses import dataclass
from datetime import datetime
from itertools import groupby
from math import isfinite
from numbers import Integral, Real

from coop.engines.largest_remainder import largest_remainder
from coop.selectors.cost import bill_of_cartons
from coop.selectors.parcels import capacity_kg
from coop.selectors.plans import Planning, Proposed

INSTANTS = ("ready_at", "last_closing", "deadline", "earliest_hand_over")
"""Figures of reasons that are instants, s since 1970 as the solver is given them."""


@dataclass(frozen=True)
class Kept:
    """The proposal in plain values, what it costs, and what no plan costs less than."""

    proposal: dict
    cost_minor: int
    bound_minor: int
    gap: float


def kept(planning: Planning, proposed: Proposed) -> Kept:
    """Bills what was proposed by its own kilograms; the bound keeps the distance that the solver proved.

    The solver reckons materials by straight lines and adds what is expected to soften, so the distance is
    that of its own costs.
    """
    cartons = sorted(proposed.cartons, key=lambda carton: (carton.way.key, -carton.mass_kg))
    rows, total = [], 0
    for _, same in groupby(cartons, key=lambda carton: carton.way.key):
        same = list(same)
        bill = _bill(planning, same)
        total += bill
        shares = largest_remainder([carton.mass_kg for carton in same], total=bill)
        rows += [_carton(carton, cost) for carton, cost in zip(same, shares, strict=True)]
    rows.sort(key=lambda row: (row["departs_at"], row["departure"]))
    bound = max(0, total - proposed.slack_minor)
    mass = round(sum(carton.mass_kg for carton in cartons), 3)
    proposal = {
        "cartons": rows,
        "left_behind": [_left(*row, planning.question.zone) for row in proposed.left_behind],
        "mass_kg": mass,
    }
    return Kept(proposal, total, bound, (total - bound) / total if total else 0.0)


def _bill(planning, cartons):
    way = cartons[0].way
    found = bill_of_cartons(
        planning.prices,
        carrier=way.departure.slot.carrier,
        design=way.design,
        masses_kg=[carton.mass_kg for carton in cartons],
        day=way.day,
    )
    return found.cost.total


def _carton(carton, cost_minor):
    way, slot = carton.way, carton.way.departure.slot
    return {
        "departure": way.key,
        "timetable": slot.timetable.pk,
        "date": way.day.isoformat(),
        "departs_at": slot.departs_at.isoformat(),
        "closes_at": slot.closes_at.isoformat(),
        "carrier": {"id": slot.carrier.pk, "name": slot.carrier.name},
        "carton_design": {"slug": way.design.slug, "name": way.design.name},
        "mass_kg": carton.mass_kg,
        "capacity_kg": capacity_kg(way.design),
        "cost_minor": cost_minor,
        "chance_hard": carton.judged.chance_hard,
        "parts": [_part(part) for part in sorted(carton.parts, key=lambda part: -part.mass_kg)],
    }


def _part(part):
    return _fish(part.lot) | {"mass_kg": part.mass_kg}


def _fish(lot):
    return {
        "lot": str(lot.uuid),
        "member": {"id": lot.member.pk, "name": lot.member.name},
        "species": {"code": lot.species.code, "name": lot.species.name_en},
    }


def _left(lot, mass_kg, code, values, zone):
    plain = {name: _plain(name, value, zone) for name, value in values.items()}
    return _fish(lot) | {"mass_kg": mass_kg, "code": code, "values": plain}


def _plain(name, value, zone):
    """A figure of the solver as JSON takes it: instants where the cooperative is, None for never."""
    if isinstance(value, Real) and not isinstance(value, Integral) and not isfinite(value):
        return None
    if name in INSTANTS:
        return datetime.fromtimestamp(value, zone).isoformat()
    if isinstance(value, Integral):
        return int(value)
    return float(value) if isinstance(value, Real) else value
