"""Which cartons cost least for some fish: how many, a box that comes back or none, how thick the walls."""

import copy
import math
from dataclasses import dataclass, replace

import numpy as np

from coop.engines.carton import capacity
from coop.engines.carton_choice import (
    CartonCount,
    Thickness,
    cheapest_carton_count,
    cheapest_insulation_thickness,
)
from coop.engines.costing import Cost
from coop.engines.departure import standard_normal_quantile
from coop.engines.journey_time import receive
from coop.engines.money import exact, half_up
from coop.engines.reuse import returnable_against_one_way
from coop.models import CartonDesign
from coop.models.cartons import FACES
from coop.models.tariffs import RuleKind
from coop.selectors.cost import Prices, bill_of, is_lasting, material_items, tariff_counting
from coop.selectors.departure_slots import Question, draws_of, receiving_of, rows_of, slots_of
from coop.selectors.departures import outing_of, packing_of
from coop.selectors.engine_inputs import carton_of
from coop.selectors.packing import (
    LEAST_SHARE,
    cartons_for,
    computed_quantities,
    mass_fault,
    pack,
    quantity_of,
)
from coop.selectors.thermal_runs import SOFT_ENOUGH, follow
from coop.selectors.usable_cartons import fault_of_design

MOST_TRIED = 20
"""More cartons than this above the fewest are not tried: each adds a fare, and holds next to nothing."""
THICKNESSES = tuple(centimetres / 100 for centimetres in range(4, 17, 2))
WALLS = standard_normal_quantile((np.arange(7) + 0.5) / 7)
"""Deviations of seven walls that are as likely as one another: what is not known of the insulation."""


@dataclass(frozen=True)
class BoxComparison:
    """Of one trip with all this fish: minor units for the boxes, and for the one-way cartons of `against`."""

    against: CartonDesign
    box_minor: int
    one_way_minor: int
    saving_minor: int
    least_trips: int | None


@dataclass(frozen=True)
class Wall:
    """A full carton with walls of one thickness m: kg of fish, the share of it that softens, its bill."""

    thickness: float
    mass_kg: float
    softened_share: float
    cost: Cost


def cheapest_cartons(prices: Prices, *, carrier, design, mass_kg, **bill) -> CartonCount | None:
    """Carton count with the least cost of a sound kilogram; None where a price is missing."""
    fits = capacity(carton_of(design))
    fewest = cartons_for(design, mass_kg)
    fullest = math.floor(mass_kg / (LEAST_SHARE * fits))
    most = max(fewest, min(carrier.carton_places, fewest + MOST_TRIED, fullest))

    def cost(cartons):
        return bill_of(prices, carrier=carrier, design=design, mass_kg=mass_kg, cartons=cartons, **bill).cost

    if cost(fewest) is None:
        return None
    return cheapest_carton_count(mass_kg, capacity=fits, most=most, cost=cost)


def box_against_carton(prices: Prices, designs, *, carrier, box, mass_kg, day) -> BoxComparison | None:
    """A box that comes back against the one-way carton whose materials cost least for this fish.

    Materials and return alone: what both pay for in the same way is left out. None where a price is missing.
    """
    cartons = cartons_for(box, mass_kg)
    own = _material_cost(prices, box, mass_kg, day)
    tariff = tariff_counting(prices, carrier, day)
    others = [
        (found, design)
        for design in designs
        if not design.returnable and not mass_fault(design, mass_kg, places=carrier.carton_places)
        if (found := _material_cost(prices, design, mass_kg, day)) is not None
    ]
    if own is None or tariff is None or not others:
        return None
    one_way, against = min(others, key=lambda pair: pair[0])
    choice = returnable_against_one_way(
        box_price=cartons * _lasting_price(prices, box, mass_kg / cartons, day),
        trips=box.expected_trips,
        loss_chance=box.loss_chance,
        return_fare=cartons * _return_fare(tariff),
        one_way_price=max(0, one_way - own),
    )
    box_minor, one_way_minor = half_up(choice.box), half_up(choice.one_way)
    return BoxComparison(against, box_minor, one_way_minor, one_way_minor - box_minor, choice.least_trips)


def walls_to_choose(question: Question, prices: Prices, carrier) -> tuple[tuple[Wall, ...], Thickness | None]:
    """Walls of each thickness within the outer size of a design, and the cheapest for a sound kilogram.

    Each carton is full and goes on a journey of median length with the carrier's first departure. Nothing
    where the carrier does not leave, a price is missing, or the walls come with a box that is bought.
    """
    design = question.designs[0]
    rows = rows_of(question)
    slot = next((slot for slot in slots_of(question, rows) if slot.carrier == carrier), None)
    if slot is None or design.returnable:
        return (), None
    journey = _median_journey(question, rows, slot)
    walls = {}
    for thickness in THICKNESSES:
        wall = _wall(question, prices, slot, journey, thickness)
        if wall:
            walls[thickness] = wall
    cheapest = cheapest_insulation_thickness(
        THICKNESSES, cost=lambda thickness: walls[thickness].cost if thickness in walls else None
    )
    return tuple(walls.values()), cheapest


def _material_cost(prices, design, mass_kg, day):
    """Minor units of the materials that the fish uses up, or None where a price is missing."""
    cartons = cartons_for(design, mass_kg)
    missing = []
    items = list(material_items(prices, design, pack(design, mass_kg / cartons), day, missing))
    counts = {"carton": cartons}
    if missing:
        return None
    return sum(item.line(counts).amount_minor for row, item in items if not is_lasting(row))


def _lasting_price(prices, box, mass_kg, day):
    """Minor units of everything that comes back with one new box."""
    computed = computed_quantities(box, pack(box, mass_kg))
    rows = [row for row in box.materials.all() if is_lasting(row)]
    return sum(
        half_up(
            prices.material_price(row.material, day).amount_minor
            * exact("quantity", quantity_of(row, computed))
        )
        for row in rows
    )


def _return_fare(tariff):
    rules = (rule for rule in tariff.rules.all() if rule.kind == RuleKind.RETURN_OF_EMPTY)
    return sum(max(rule.amount_minor, rule.minimum_minor) for rule in rules)


def _median_journey(question, rows, slot):
    """Outing of a slot that leaves as late as the median, its travel s, and its hand-over s since closing."""
    draws, travel = draws_of(question, rows, slot.timetable)
    outing, _ = outing_of(question, rows, slot, travel)
    leaves = outing.wait + float(np.median(draws.delay))
    median = float(np.median(draws.travel))
    receiving = receiving_of(question, rows, slot)
    handed_over = receive(np.array([leaves + median]), opens=receiving.opens, closes=receiving.closes)
    return replace(outing, wait=leaves, travel=np.array([median])), float(handed_over[0])


def _wall(question, prices, slot, journey, thickness):
    """The design with walls of another thickness, or None where it holds no fish or has no price."""
    design = copy.copy(question.designs[0])
    for face in FACES:
        setattr(design, f"insulation_{face}_m", thickness)
    room = min(design.outer_length_m, design.outer_width_m, design.outer_height_m)
    if room <= 2 * (thickness + design.board_thickness_m) or fault_of_design(design, question.species):
        return None
    mass = math.floor(capacity(carton_of(design)) * 10) / 10
    if not mass:
        return None
    share = _softened_share(replace(question, mass_kg=mass), design, slot.standard, journey)
    cost = bill_of(
        prices,
        carrier=slot.carrier,
        design=design,
        mass_kg=mass,
        cartons=1,
        day=slot.departs_at.date(),
        softened_share=share,
        with_fish=question.with_fish,
    ).cost
    return cost and Wall(thickness, mass, share, cost)


def _softened_share(question, design, standard, journey):
    """Share that has softened at hand-over, on average over what is not known of the wall."""
    outing, handed_over = journey
    _, packed, _ = packing_of(question, design, standard)
    runs = follow(
        packed,
        outing,
        [outing.wait],
        [outing.closing],
        travel=outing.travel,
        deviations=WALLS,
        stop_at=SOFT_ENOUGH,
    )
    shares = np.nan_to_num(runs.curves.softened_share, nan=1.0)
    return round(
        float(np.mean([np.interp(handed_over, runs.curves.time, row, right=1.0) for row in shares])), 4
    )
