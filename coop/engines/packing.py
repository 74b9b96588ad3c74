"""What to buy and cut for one carton: insulation, bags, rope, thread and board."""

from dataclasses import dataclass

import numpy as np

LOOSE_SHAVINGS_DENSITY = 80.0
"""kg/m³ of shavings as a sack holds them; Granum 1951, in Berge, Table 14.6: loose."""
LINER_BAGS = 1
"""One round the whole stack of fish keeps melt water out of the insulation; common practice, no source."""
KNOT = 0.3
"""m of rope for the knot of each turn; common practice, no source."""
THREAD_PER_SEAM = 3.0
"""m of thread a metre of seam sewn by hand; common practice, no source."""
PATCHED_SHARE = 0.10
"""Share of the outside of a used carton that is patched; common practice, no source."""
MOST_TURNS = 20
ROUND_OFF = 1e-9
"""A sack that is full to a billionth is one sack."""


@dataclass(frozen=True, kw_only=True)
class PackingMaterials:
    """For one carton: m³, kg, m, m² and whole pieces; `insulation_sacks` is None where no sack was named."""

    insulation_volume: float
    insulation_mass: float
    insulation_sacks: int | None
    liner_bags: int
    thin_bags: int
    rope_length: float
    thread_length: float
    board_area: float


def packing_materials(
    carton,
    load,
    *,
    thin_bag_mass,
    rope_wraps_length,
    rope_wraps_width,
    sack_volume=None,
    sack_density=LOOSE_SHAVINGS_DENSITY,
):
    """Everything that is bought or cut to pack one load into one carton.

    carton              Carton   –       as designed
    load                Load     –       what lies in it; the fill above takes insulation too
    thin_bag_mass       float    kg      fish in one thin bag, > 0
    rope_wraps_length   int      –       turns round length and height, 0–20
    rope_wraps_width    int      –       turns round width and height, 0–20
    sack_volume         float    m³      room of one sack as bought, > 0; None if not sold by the sack
    sack_density        float    kg/m³   of the insulation in the sack, looser than as packed, > 0

    Returns PackingMaterials.
    Raises ValueError for a value that is not positive, or turns that are not a whole number of 0 to 20.
    Source: No source: geometry; allowances for knots, seams and patches are common practice.
    """
    return PackingMaterials(
        insulation_volume=load.insulation_volume,
        insulation_mass=load.insulation_mass,
        insulation_sacks=_sacks(load.insulation_mass, sack_volume, sack_density),
        liner_bags=LINER_BAGS,
        thin_bags=_whole_pieces(load.mass, "thin_bag_mass", thin_bag_mass),
        rope_length=rope_length(
            carton, rope_wraps_length=rope_wraps_length, rope_wraps_width=rope_wraps_width
        ),
        thread_length=thread_length(carton),
        board_area=board_area(carton, load),
    )


def rope_length(carton, *, rope_wraps_length, rope_wraps_width):
    """Rope for the tying pattern: every turn goes once round the carton and ends in a knot.

    carton              Carton   –   as designed
    rope_wraps_length   int      –   turns round length and height, 0–20
    rope_wraps_width    int      –   turns round width and height, 0–20

    Returns m.
    Raises ValueError for turns that are not a whole number of 0 to 20.
    Source: No source: outer sides, and 0.3 m a knot by common practice.
    """
    for name, turns in (("rope_wraps_length", rope_wraps_length), ("rope_wraps_width", rope_wraps_width)):
        if not (0 <= turns <= MOST_TURNS and turns == int(turns)):
            raise ValueError(f"{name} must be a whole number from 0 to {MOST_TURNS}, not {turns}")
    long_way = 2 * (carton.outer_length + carton.outer_height)
    short_way = 2 * (carton.outer_width + carton.outer_height)
    return rope_wraps_length * (long_way + KNOT) + rope_wraps_width * (short_way + KNOT)


def thread_length(carton):
    """Thread that sews the flaps of lid and floor: the seam along the middle and the two across the ends.

    carton   Carton   –   as designed

    Returns m.
    Raises nothing: every Carton has a lid.
    Source: No source: outer sides, and three times the seam by common practice.
    """
    return THREAD_PER_SEAM * 2 * (carton.outer_length + 2 * carton.outer_width)


def board_area(carton, load):
    """Loose board: a sheet on the fish, on which the insulation above is pressed down, and patches outside.

    carton   Carton   –   as designed
    load     Load     –   what lies in it

    Returns m².
    Raises nothing: every Carton has an outside.
    Source: No source: geometry, and a tenth of the outside patched by common practice.
    """
    length, width, height = carton.outer_length, carton.outer_width, carton.outer_height
    outside = 2 * (length * width + length * height + width * height)
    return load.fish_length * load.fish_width + PATCHED_SHARE * outside


def _sacks(mass, volume, density):
    if volume is None:
        return None
    _require_positive("sack_volume", volume)
    _require_positive("sack_density", density)
    return _whole_pieces(mass, "sack_volume", volume * density)


def _whole_pieces(mass, name, each):
    _require_positive(name, each)
    return int(np.ceil(mass / each - ROUND_OFF))


def _require_positive(name, value):
    if not 0 < value < np.inf:
        raise ValueError(f"{name} must be above 0, not {value}")
