"""A carton: its walls, the room inside, the fish in it, and the heat that its walls let through."""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from coop.engines.shape_factor import wall_shapes

FACES = ("left", "right", "front", "back", "bottom", "top")
"""Left and right bound the length, front and back the width."""
OUTER = (0.1, 2.5)
"""m, each side."""
THICKNESS = (0.0, 0.5)
CONDUCTIVITY = (0.005, 2.0)
DENSITY = (5.0, 1000.0)
SPECIFIC_HEAT = (500.0, 4200.0)
STOWAGE = (100.0, 1000.0)
SHAVINGS_DENSITY = (80.0, 130.0, 150.0, 180.0)
SHAVINGS_CONDUCTIVITY = (0.120, 0.080, 0.070, 0.060)
"""kg/m³, W/(m K); Granum 1951, in Berge, The Ecology of Building Materials, Table 14.6."""
BOARD_DENSITY = 150.0
"""kg/m³ of corrugated board, from memory."""
STILL_AIR_RESISTANCE = (0.13, 0.13, 0.13, 0.13, 0.10, 0.17)
"""m² K/W at each of FACES; ISO 6946: into a cold carton heat flows sideways, up through its floor, down
through its lid."""


class Room(NamedTuple):
    """What is left inside, m."""

    length: float
    width: float
    height: float

    @property
    def volume(self):
        return self.length * self.width * self.height


@dataclass(frozen=True, kw_only=True)
class Carton:
    """Lengths in m, conductivities in W/(m K), densities in kg/m³, specific heat in J/(kg K).

    `insulation` is the thickness on each of FACES, `insulation_density` that as packed; `stowage_density` is
    the fish in a cubic metre of room, air gaps and all.
    """

    outer_length: float
    outer_width: float
    outer_height: float
    board_thickness: float
    board_conductivity: float
    insulation: tuple[float, float, float, float, float, float]
    insulation_conductivity: float
    insulation_density: float
    insulation_specific_heat: float = 1600.0
    stowage_density: float

    def __post_init__(self):
        if len(self.insulation) != len(FACES):
            raise ValueError(
                f"insulation must have six thicknesses, {', '.join(FACES)}, not {self.insulation}"
            )
        for name, span in _SPANS.items():
            _require(name, getattr(self, name), *span)
        for face, thickness in zip(FACES, self.insulation, strict=True):
            _require(f"insulation on the {face}", thickness, *THICKNESS)
        for side, (outer, walls) in _axes(self).items():
            if outer <= walls:
                raise ValueError(
                    f"outer_{side} is {outer} m, but the walls take {walls:.6g} m: no room is left"
                )


_SPANS = {
    "outer_length": OUTER,
    "outer_width": OUTER,
    "outer_height": OUTER,
    "board_thickness": THICKNESS,
    "board_conductivity": CONDUCTIVITY,
    "insulation_conductivity": CONDUCTIVITY,
    "insulation_density": DENSITY,
    "insulation_specific_heat": SPECIFIC_HEAT,
    "stowage_density": STOWAGE,
}


@dataclass(frozen=True, kw_only=True)
class Load:
    """Fish in a carton: kg, m and m³.

    The fish covers the floor of the room; `fill_above` is insulation between it and the usual top insulation.
    """

    mass: float
    fish_length: float
    fish_width: float
    fish_height: float
    fill_above: float
    insulation_volume: float
    insulation_mass: float
    board_mass: float

    @property
    def gross_mass(self):
        return self.mass + self.insulation_mass + self.board_mass


def shavings_conductivity(packing_density):
    """Thermal conductivity of dry wood shavings by how tightly they are packed.

    packing_density   (n,)   kg/m³   80 (loose) to 180 (as tight as they go)

    Returns (n,) W/(m K), by straight lines between the measured densities. Moisture adds 1–2 % a per cent.
    Raises ValueError outside 80–180: nothing was measured there, and looser shavings insulate worse.
    Source: Granum 1951, in Berge, The Ecology of Building Materials, Table 14.6.
    """
    density = np.asarray(packing_density, float)
    low, high = SHAVINGS_DENSITY[0], SHAVINGS_DENSITY[-1]
    bad = ~((density >= low) & (density <= high))
    if bad.any():
        raise ValueError(
            f"packing_density must be between {low} and {high} kg/m³, not {density[bad].flat[0]}"
        )
    return np.interp(density, SHAVINGS_DENSITY, SHAVINGS_CONDUCTIVITY)


def room(carton):
    """Room that board and insulation leave inside.

    carton   Carton   –   as designed

    Returns Room, m.
    Raises nothing: a Carton without room cannot be made.
    Source: No source: outer sides less the walls.
    """
    return Room(*(outer - walls for outer, walls in _axes(carton).values()))


def volume_inside_board(carton):
    """Room between the boards: of fish and insulation together.

    carton   Carton   –   as designed

    Returns m³.
    Raises nothing: a Carton without room cannot be made.
    Source: No source: outer sides less the board.
    """
    board = 2 * carton.board_thickness
    return (carton.outer_length - board) * (carton.outer_width - board) * (carton.outer_height - board)


def capacity(carton):
    """The most fish that fits.

    carton   Carton   –   as designed

    Returns kg.
    Raises nothing: a Carton without room cannot be made.
    Source: No source: volume of the room times stowage density.
    """
    return room(carton).volume * carton.stowage_density


def load(carton, mass):
    """Fish laid into a carton that is then filled to the brim with insulation.

    carton   Carton   –    as designed
    mass     float    kg   fish, > 0, at most the capacity

    Returns Load: the fish covers the floor of the room and lies as high as its mass asks.
    Raises ValueError for a mass that is not positive, or that does not fit; it names the kilograms that fit.
    Source: No source: geometry. Less fish lies deeper, less heat comes in, and less fish takes it up.
    """
    fits = capacity(carton)
    if not 0 < mass < np.inf:
        raise ValueError(f"mass must be above 0 kg, not {mass}")
    if mass > fits:
        raise ValueError(
            f"mass must be at most {np.floor(fits * 1000) / 1000:.7g} kg, which is what fits, not {mass}"
        )
    inside = room(carton)
    fish_height = inside.height * (mass / fits)
    volume = volume_inside_board(carton) - inside.length * inside.width * fish_height
    return Load(
        mass=float(mass),
        fish_length=inside.length,
        fish_width=inside.width,
        fish_height=fish_height,
        fill_above=inside.height - fish_height,
        insulation_volume=volume,
        insulation_mass=volume * carton.insulation_density,
        board_mass=(_outer_volume(carton) - volume_inside_board(carton)) * BOARD_DENSITY,
    )


def conductance(carton, load, *, film):
    """Heat that comes in for each degree between the air and the face of the fish: UA.

    carton   Carton       –          as designed
    load     Load         –          what lies in it; the fill above counts as top insulation
    film     () or (6,)   W/(m² K)   film coefficient outside, one or by FACES, > 0

    Returns W/K once the walls have settled.
    Raises ValueError for a film that is not positive.
    Source: Langmuir, Adams & Meikle 1913, as Incropera & DeWitt, Table 4.1, has it; unlike walls as in
        shape_factor.edge_factor. Board and film stand in series with each wall.
    """
    film = _films(film)
    thickness, shape = _thickness(carton, load), _shapes(carton, load)
    through_insulation = thickness / (carton.insulation_conductivity * shape)
    outside = carton.board_thickness / carton.board_conductivity + 1 / film
    return float(np.sum(1 / (through_insulation + outside / _outer_areas(carton))))


def shape_factor(carton, load):
    """Conduction shape factor of the insulation around the fish: its conductance over its conductivity.

    carton   Carton   –   insulation on every face must be thicker than 0
    load     Load     –   what lies in it; the fill above counts as top insulation

    Returns m.
    Raises ValueError for a face without insulation, whose shape factor would be infinite.
    Source: Langmuir, Adams & Meikle 1913, as Incropera & DeWitt, Table 4.1, has it; unlike walls as in
        shape_factor.edge_factor.
    """
    thickness = _thickness(carton, load)
    if not np.all(thickness > 0):
        raise ValueError(f"insulation must be above 0 m on every face, not {min(thickness)}")
    return float(np.sum(_shapes(carton, load) / thickness))


def atp_k(carton, *, film):
    """K of the full carton as the ATP agreement reckons it for vehicle bodies: to compare, no certificate.

    carton   Carton       –          as designed
    film     () or (6,)   W/(m² K)   film coefficient outside, one or by FACES, > 0

    Returns W/(m² K): UA over the geometric mean of the inner and outer surface. ATP calls a body normally
    insulated up to 0.70 and heavily insulated up to 0.40.
    Raises ValueError for a film that is not positive.
    Source: UNECE, ATP agreement, Annex 1, Appendix 2: K = UA / √(Si So).
    """
    inside = room(carton)
    inner = _surface(inside.length, inside.width, inside.height)
    outer = _surface(carton.outer_length, carton.outer_width, carton.outer_height)
    return conductance(carton, load(carton, capacity(carton)), film=film) / float(np.sqrt(inner * outer))


def _require(name, value, low, high):
    if not low <= value <= high:
        raise ValueError(f"{name} must be between {low} and {high}, not {value}")


def _axes(carton):
    """Outer side and what the walls take of it, by the name of the side."""
    left, right, front, back, bottom, top = carton.insulation
    board = 2 * carton.board_thickness
    return {
        "length": (carton.outer_length, left + right + board),
        "width": (carton.outer_width, front + back + board),
        "height": (carton.outer_height, bottom + top + board),
    }


def _outer_volume(carton):
    return carton.outer_length * carton.outer_width * carton.outer_height


def _surface(length, width, height):
    return 2 * (length * width + length * height + width * height)


def _films(film):
    film = np.asarray(film, float)
    if film.shape not in ((), (6,)):
        raise ValueError(f"film must be one number or six, not {film}")
    bad = ~((film > 0) & np.isfinite(film))
    if bad.any():
        raise ValueError(f"film must be above 0 W/(m² K), not {film[bad].flat[0]}")
    return film


def _thickness(carton, load):
    *others, top = carton.insulation
    return np.array([*others, top + load.fill_above])


def _shapes(carton, load):
    sides = (load.fish_length, load.fish_width, load.fish_height)
    return wall_shapes(sides=sides, thickness=_thickness(carton, load))


def _outer_areas(carton):
    length, width, height = carton.outer_length, carton.outer_width, carton.outer_height
    return np.repeat([width * height, length * height, length * width], 2)
