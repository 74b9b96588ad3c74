"""Conduction shape factors of a box with walls of unlike thickness: walls, edges and corners."""

import numpy as np

EDGE, CORNER = 0.54, 0.15
"""Shape factor of an edge a metre, and of a corner a metre of wall thickness; Langmuir, Adams & Meikle 1913,
as Incropera & DeWitt, Table 4.1, has them."""
BETWEEN_EQUAL_WALLS = 2 / np.pi * (np.pi / 2 - np.log(2))
"""0.559: the exact edge between walls of one thickness, where Langmuir measured 0.54."""


MOST_UNLIKE = 10.0
"""Ratio of two walls from which their edge leaks no more: beside so thin a wall board and film decide."""


def wall_shapes(*, sides, thickness):
    """Shape factor of each wall times its thickness: the area that conducts, edges and corners included.

    sides       (3,)   m   inner length, width, height, > 0
    thickness   (6,)   m   of left, right, front, back, bottom, top, ≥ 0

    Returns (6,) m². An edge counts half to each of its walls, a corner a third.
    Raises ValueError for a side or a thickness that cannot be.
    Source: Langmuir, Adams & Meikle 1913, as Incropera & DeWitt, Table 4.1, has it, for walls of one
        thickness up to five times the shortest side; between unlike walls edge_factor, at corners the mean.
    """
    sides, thickness = np.asarray(sides, float), np.asarray(thickness, float)
    _require("sides", sides, (sides > 0) & np.isfinite(sides), "above 0 m")
    _require("thickness", thickness, (thickness >= 0) & np.isfinite(thickness), "0 m or more")
    corner = CORNER * thickness.reshape(3, 2).mean(axis=1).sum() / 3
    return np.array([_wall(face, sides, thickness) for face in range(6)]) + thickness * 4 / 3 * corner


def edge_factor(a, b):
    """Shape factor of a metre of the edge in which two walls meet.

    a   (n,)   m   thickness of one wall, ≥ 0
    b   (n,)   m   thickness of the other, ≥ 0

    Returns (n,), 0.54 for walls of one thickness, more for unlike ones, and no more beyond ten times.
    Raises ValueError for a thickness that cannot be.
    Source: Langmuir's 0.54 in proportion to the exact flow round the corner of two walls by conformal mapping
        (from memory; finite volumes in the tests meet it).
    """
    a, b = np.asarray(a, float), np.asarray(b, float)
    for name, value in (("a", a), ("b", b)):
        _require(name, value, (value >= 0) & np.isfinite(value), "0 m or more")
    thick = np.maximum(a, b)
    thin = np.maximum(np.minimum(a, b), thick / MOST_UNLIKE)
    ratio = np.divide(thick, thin, out=np.ones_like(thick), where=thin > 0)
    turned = ratio * np.arctan(1 / ratio) + np.arctan(ratio) / ratio
    exact = 2 / np.pi * (np.log((ratio + 1 / ratio) / 4) + turned)
    return EDGE * exact / BETWEEN_EQUAL_WALLS


def _wall(face, sides, thickness):
    """A wall and half of its four edges, m²."""
    axis = face // 2
    one, other = (k for k in range(3) if k != axis)
    beside = [2 * other, 2 * other + 1, 2 * one, 2 * one + 1]
    edges = np.repeat([sides[one], sides[other]], 2) * edge_factor(thickness[face], thickness[beside])
    return sides[one] * sides[other] + thickness[face] * edges.sum() / 2


def _require(name, values, is_right, what):
    if not np.all(is_right):
        raise ValueError(f"{name} must be {what}, not {values[~is_right].flat[0]}")
