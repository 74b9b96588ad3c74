"""A carton that nobody stored, from the sizes that a person gives; faults are named as they were given."""

from coop.engines.carton import FACES, SHAVINGS_DENSITY, Carton, shavings_conductivity
from coop.engines.departure import standard_normal_quantile
from coop.errors import invalid
from coop.selectors.packing import mass_fault_in
from coop.selectors.usable_cartons import fault_of

AXES = {"length": ("left", "right"), "width": ("front", "back"), "height": ("bottom", "top")}
UNITS = {
    "board_thickness": "m",
    "board_conductivity": "w_m_k",
    "insulation_density": "kg_m3",
    "insulation_specific_heat": "j_kg_k",
    "stowage_density": "kg_m3",
}


def carton_of_sizes(sizes):
    """engines.carton.Carton of sizes by name; `insulation_m` is every face without a thickness of its own."""
    walls = {face: sizes[name_of_wall(sizes, face)] for face in FACES}
    for side, faces in AXES.items():
        _require_room(sizes, side, sum(walls[face] for face in faces) + 2 * sizes["board_thickness_m"])
    outer = {f"outer_{side}": sizes[f"outer_{side}_m"] for side in AXES}
    rest = {name: sizes[f"{name}_{unit}"] for name, unit in UNITS.items()}
    return Carton(
        **outer, **rest, insulation=tuple(walls.values()), insulation_conductivity=_conductivity(sizes)
    )


def name_of_wall(sizes, face):
    """What the thickness of a face was given as."""
    own = f"insulation_{face}_m"
    return own if own in sizes else "insulation_m"


def followable_carton(sizes, flesh, *, mass_kg, conductivity_cv, confidence):
    """carton_of_sizes, if fish can be followed in it, and if so much fish is a carton of it."""
    carton = carton_of_sizes(sizes)
    poorest = float(standard_normal_quantile(confidence))
    fault = fault_of(carton, flesh, conductivity_cv=conductivity_cv, poorest=poorest)
    fault = fault or mass_fault_in(carton, mass_kg)
    if fault is None:
        return carton
    names = {f"insulation_{face}_m": name_of_wall(sizes, face) for face in FACES}
    raise invalid(names.get(fault.field, fault.field), fault.value, fault.problem, fault.right)


def _require_room(sizes, side, walls):
    field = f"outer_{side}_m"
    if sizes[field] <= walls:
        raise invalid(
            field, sizes[field], f"leaves no room: walls take {walls:g} m of it", f"more than {walls:g} m"
        )


def _conductivity(sizes):
    given = sizes.get("insulation_conductivity_w_m_k")
    if given is not None:
        return given
    density, (least, *_, most) = sizes["insulation_density_kg_m3"], SHAVINGS_DENSITY
    if not least <= density <= most:
        right = f"{least:g} to {most:g} for wood shavings, or insulation_conductivity_w_m_k beside it"
        raise invalid("insulation_density_kg_m3", density, "has no conductivity in the table", right)
    return float(shavings_conductivity(density))
