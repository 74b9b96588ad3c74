"""The carton that fish on offer would make together, where no shared carton is open."""

from dataclasses import dataclass, replace
from fractions import Fraction

from coop.selectors.cost import bill_of
from coop.selectors.departure_slots import rows_of
from coop.selectors.departures import departures_for
from coop.selectors.lots import LEAST_KG, waiting_lots
from coop.selectors.packing import mass_fault
from coop.selectors.parcel_judgement import Fill
from coop.selectors.parcels import capacity_kg
from coop.selectors.safe_fills import safe_fills
from coop.selectors.split_worked_out import Holding
from coop.selectors.usable_cartons import fault_of_design
from coop.selectors.ways_together import Together, joined_fill, kept_apart, own_fill, own_holding

MOST_JUDGED = 12
"""Makings of a carton that are judged before it is said that none of them is safe."""


@dataclass(frozen=True)
class MadeUp:
    """A carton that the fish and lots on offer would make on one departure; lots with the kg of each."""

    plan: object
    design: object
    fill: Fill
    lots: tuple
    bill_minor: int

    @property
    def each(self):
        return Fraction(self.bill_minor) / Fraction(self.fill.mass_kg), self.plan.slot.departs_at


def made_up(known):
    """Trip in the cheapest carton that lots on offer would make; None where they make none that is safe."""
    question = known.question
    offered = offered_to(question)
    if not offered:
        return None
    asked = question.about(designs=())
    fills = safe_fills(asked, rows_of(asked), (question.species,))
    apart = kept_apart(question.cooperative)
    makings = [
        making
        for plan in fills.departures
        if plan.slot.closes_at >= question.ready_at and known.has_places(plan.slot, 1)
        for design in question.designs
        if design.counts_on(plan.slot.day)
        if (making := _making(known, plan, design, offered, apart))
    ]
    for making in sorted(makings, key=lambda making: making.each)[:MOST_JUDGED]:
        if _is_safe(fills, making):
            departure = _worst_departure(known, making)
            if departure.is_safe:
                return _trip_made(known, making, departure)
    return None


def offered_to(question):
    """Lots of others that go the same way and wait for a carton."""
    waiting = waiting_lots(question.cooperative, question.route, question.buyer)
    return [lot for lot in waiting if lot.member_id != question.member.pk]


def _making(known, plan, design, offered, apart):
    """MadeUp of this fish and as much else as fits, the largest lots first; None where it stays alone."""
    question = known.question
    if fault_of_design(design, question.species) or question.mass_kg > capacity_kg(design):
        return None
    ready = [lot for lot in offered if lot.ready_at <= plan.slot.closes_at]
    fill, lots = _filled(own_fill(known), ready, design, apart)
    if not lots or mass_fault(design, fill.mass_kg, places=1):
        return None
    cost = bill_of(
        known.prices,
        carrier=plan.slot.carrier,
        design=design,
        mass_kg=fill.mass_kg,
        cartons=1,
        day=plan.slot.departs_at.date(),
    ).cost
    return cost and MadeUp(plan, design, fill, lots, cost.total)


def _filled(fill, lots, design, apart):
    """A filling with as much of some lots as fits, and (lot, kg) of each that went in."""
    taken = []
    for lot in sorted(lots, key=lambda lot: (-lot.left_kg, lot.pk)):
        room = round(capacity_kg(design) - fill.mass_kg, 3)
        mass = round(min(lot.left_kg, room) if lot.may_be_split else lot.left_kg, 3)
        strange = any(frozenset((row.pk, lot.species_id)) in apart for row in fill.species)
        if LEAST_KG < mass <= room and not strange and not fault_of_design(design, lot.species):
            fill = joined_fill(fill, Fill(mass, (lot.species,), lot.start_temperature_c, lot.deliver_by))
            taken.append((lot, mass))
    return fill, tuple(taken)


def _is_safe(fills, making):
    """As `safe_fills` reckons it: days that are alike are judged once."""
    fill, slot = making.fill, making.plan.slot
    own = fills.for_fish(
        species=fill.species, start_temperature_c=fill.start_temperature_c, deliver_by=fill.deliver_by
    )
    plan = own.departure_at(slot.timetable, slot.departs_at)
    return own.is_safe(plan, making.design, fill.mass_kg)


def _worst_departure(known, making):
    """The departure with that carton, for the species that fares worst in it."""
    day = making.plan.slot.departs_at.date()
    asked = known.question.about(
        mass_kg=making.fill.mass_kg, designs=(making.design,), first_day=day, last_day=day,
        start_temperature_c=making.fill.start_temperature_c, deliver_by=making.fill.deliver_by,
    )  # fmt: skip
    found = [
        one
        for species in making.fill.species
        for one in departures_for(replace(asked, species=species))
        if one.slot == making.plan.slot
    ]
    return min(found, key=lambda one: (one.is_safe, one.judgement.chance_hard))


def _trip_made(known, making, departure):
    holdings = {}
    for lot, mass in making.lots:
        holding = holdings.setdefault(lot.member_id, Holding(lot.member))
        holding.masses_kg.append(mass)
        holding.lots.append(lot)
    together = Together(known, [*holdings.values(), own_holding(known)], making.bill_minor)
    slot = making.plan.slot
    paid = together.share_of_last(timetable=slot.timetable, departs_at=slot.departs_at)
    return known.trip(departure, paid, members=len(together.holdings))
