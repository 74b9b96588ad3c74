"""What one carton of a design holds, what it takes to pack it, and what that costs on a day."""

import math
from dataclasses import dataclass
from datetime import date

from coop.engines import ambient
from coop.engines.carton import Carton, Load, atp_k, capacity, conductance, load
from coop.engines.carton_choice import fewest_cartons
from coop.engines.money import exact, half_up
from coop.engines.packing import PackingMaterials, packing_materials
from coop.errors import Problem, invalid
from coop.models.cartons import MaterialUse
from coop.models.materials import Unit
from coop.selectors.engine_inputs import carton_of
from coop.selectors.materials import price_on

LEAST_SHARE = 0.05
"""A carton that is emptier than this is no carton of fish."""


@dataclass(frozen=True)
class Purchase:
    """One thing to buy for one carton; amounts are None where no price counts that day."""

    name: str
    quantity: float
    unit: str
    amount_minor: int | None
    priced_on: date | None


@dataclass(frozen=True)
class PackingSheet:
    """How one carton is packed, and what is bought for it."""

    design: object
    carton: Carton
    load: Load
    capacity_kg: float
    materials: PackingMaterials
    conductance: float
    atp_k: float
    purchases: tuple[Purchase, ...]

    @property
    def gross_kg(self):
        return gross_kg(self.design, self.load)


def gross_kg(design, load):
    """What one packed carton weighs: with the empty mass that was entered, or else board and insulation."""
    return load.gross_mass if design.empty_mass_kg is None else load.mass + design.empty_mass_kg


def pack(design, mass_kg):
    """engines.carton.Load of so many kilograms in one carton of a design."""
    fault = mass_fault(design, mass_kg, places=1)
    if fault:
        raise invalid(fault.field, fault.value, fault.problem, fault.right)
    return load(carton_of(design), mass_kg)


def cartons_for(design, mass_kg):
    """The fewest cartons of a design that hold so many kilograms."""
    return fewest_cartons(mass_kg, capacity=capacity(carton_of(design)))


def mass_fault(design, mass_kg, *, places):
    """The Problem with so much fish in at most so many cartons of a design, or None."""
    return mass_fault_in(carton_of(design), mass_kg, places=places, name=design.name)


def mass_fault_in(carton, mass_kg, *, places=1, name="this size"):
    """The Problem with so much fish in at most so many such cartons, or None."""
    fits = capacity(carton)
    least, most = LEAST_SHARE * fits, places * fits
    if least <= mass_kg <= most:
        return None
    cartons = "one carton" if places == 1 else f"{places} cartons"
    problem = f"more than fits in {cartons}" if mass_kg > most else "too little for a carton"
    least, most = math.ceil(least * 10) / 10, math.floor(most * 10) / 10
    return Problem("mass_kg", mass_kg, problem, f"{least:g} to {most:g} kg in {cartons} of {name}")


def packing_sheet(design, mass_kg, day):
    carton, packed = carton_of(design), pack(design, mass_kg)
    return PackingSheet(
        design=design,
        carton=carton,
        load=packed,
        capacity_kg=capacity(carton),
        materials=materials_of(design, carton, packed),
        conductance=conductance(carton, packed, film=ambient.FILM_STILL),
        atp_k=atp_k(carton, film=ambient.FILM_STILL),
        purchases=tuple(_purchases(design, packed, day)),
    )


def materials_of(design, carton, packed):
    sacks = (row.material.sack_volume_m3 for row in design.materials.all())
    return packing_materials(
        carton,
        packed,
        thin_bag_mass=design.thin_bag_kg,
        rope_wraps_length=design.rope_wraps_length,
        rope_wraps_width=design.rope_wraps_width,
        sack_volume=next((volume for volume in sacks if volume), None),
    )


def computed_quantities(design, packed):
    """How much of each use one carton needs, by use and unit, where geometry tells."""
    found = materials_of(design, carton_of(design), packed)
    return {
        (MaterialUse.CARTON, Unit.PIECE): 1,
        (MaterialUse.BOX, Unit.PIECE): 1,
        (MaterialUse.INSULATION, Unit.SACK): found.insulation_sacks,
        (MaterialUse.INSULATION, Unit.KILOGRAM): round(found.insulation_mass, 3),
        (MaterialUse.INSULATION, Unit.CUBIC_METRE): round(found.insulation_volume, 4),
        (MaterialUse.LINER_BAG, Unit.PIECE): found.liner_bags,
        (MaterialUse.THIN_BAG, Unit.PIECE): found.thin_bags,
        (MaterialUse.ROPE, Unit.METRE): round(found.rope_length, 2),
        (MaterialUse.THREAD, Unit.METRE): round(found.thread_length, 2),
        (MaterialUse.BOARD, Unit.SQUARE_METRE): round(found.board_area, 3),
    }


def quantity_of(row, computed):
    """Quantity of a design's material: the one entered, else the one that geometry tells, else None."""
    return row.quantity if row.quantity is not None else computed.get((row.use, row.material.unit))


def _purchases(design, packed, day):
    computed = computed_quantities(design, packed)
    for row in design.materials.all():
        quantity, price = quantity_of(row, computed), price_on(row.material, day)
        if quantity is None:
            continue
        amount = price and half_up(price.amount_minor * exact("quantity", quantity))
        yield Purchase(row.material.name, quantity, row.material.unit, amount, price and price.confirmed_on)
