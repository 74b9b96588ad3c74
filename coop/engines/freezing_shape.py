"""How the shape of fish tells on its freezing: how many slabs' worth of surface it freezes from."""

from typing import NamedTuple

import numpy as np

SHAPES = ("slab", "brick", "cylinder", "ellipsoid")
PLANK_SLAB, PLANK_CYLINDER, PLANK_SPHERE = (1 / 2, 1 / 8), (1 / 4, 1 / 16), (1 / 6, 1 / 24)
"""P and R of Plank 1913, exact for fronts that stay parallel to the surface."""
CLELAND_POWER = 1.34
CLELAND_WIDTH, CLELAND_LENGTH = (2.32, 1.77, 0.73, 2.50), (2.32, 1.77, 0.50, 3.69)
"""Of the curve from thin film to none, then factor and power of the ratio of sides where the film is no
hindrance; Cleland, Cleland & Earle 1987, Int. J. Refrigeration 10:22, as ASHRAE has them, from memory."""


class Body(NamedTuple):
    """A piece of fish, or fish packed as one: shape, thickness m, width and length in thicknesses.

    A ratio without end (inf) leaves that direction out: the slow side, so it is right where nobody knows it.
    """

    shape: str
    thickness: float
    width_ratio: float = np.inf
    length_ratio: float = np.inf

    @property
    def half(self):
        return np.asarray(self.thickness, float) / 2


def dimensions(body, *, biot):
    """Dimensions of heat flow that a body counts for: a slab 1, a long cylinder 2, a sphere 3.

    body   Body   –   one of SHAPES; a cylinder is as wide as it is thick
    biot   (n,)   –   film × half thickness over the conductivity of the frozen fish, > 0

    Returns (n,): the slab of this thickness takes so many times as long to freeze.
    Raises ValueError for a shape that is not known, or a thickness, ratio or Biot number that cannot be.
    Source: Cleland, Cleland & Earle 1987 for slab, brick, cylinder; Hossain, Cleland & Cleland 1992 else.
    """
    if body.shape not in SHAPES:
        raise ValueError(f"body.shape must be one of {', '.join(SHAPES)}, not {body.shape!r}")
    thickness = np.asarray(body.thickness, float)
    _require("body.thickness", thickness, (thickness > 0) & np.isfinite(thickness), "above 0 m")
    if body.shape == "slab":
        return np.ones(np.shape(_biot(biot)))[()]
    if body.shape == "cylinder":
        return dimensions_cylinder_cleland(biot=biot, length_ratio=body.length_ratio)
    ratios = {"biot": biot, "width_ratio": body.width_ratio, "length_ratio": body.length_ratio}
    return (dimensions_brick_cleland if body.shape == "brick" else dimensions_ellipsoid_hossain)(**ratios)


def dimensions_brick_cleland(*, biot, width_ratio, length_ratio):
    """Dimensions of heat flow that a brick of fish counts for.

    biot           (n,)   –   with the half thickness, > 0
    width_ratio    (n,)   –   width over thickness, ≥ 1, inf for a slab
    length_ratio   (n,)   –   length over thickness, at least the width's

    Returns (n,), from 1 + 1/width + 1/length without a hindrance inside down to little above 1.
    Raises ValueError for a ratio or a Biot number that cannot be.
    Source: Cleland, Cleland & Earle 1987, G1 + G2 E1 + G3 E2 (ASHRAE Handbook, Refrigeration, Cooling and
        freezing times of foods, from memory); their Biot number has the whole thickness in it.
    """
    biot, width, length = _sides(biot, width_ratio, length_ratio)
    return (1 + _cleland(biot, width, CLELAND_WIDTH) + _cleland(biot, length, CLELAND_LENGTH))[()]


def dimensions_cylinder_cleland(*, biot, length_ratio):
    """Dimensions of heat flow that a cylinder counts for that is at least as long as it is thick.

    biot           (n,)   –   with the radius, > 0
    length_ratio   (n,)   –   length over diameter, ≥ 1, inf for a long one

    Returns (n,), 2 for a long one, up to 3.
    Raises ValueError for a ratio or a Biot number that cannot be.
    Source: Cleland, Cleland & Earle 1987, short cylinder: 2 + E2, as for the brick.
    """
    biot, _, length = _sides(biot, 1.0, length_ratio)
    return (2 + _cleland(biot, length, CLELAND_LENGTH))[()]


def dimensions_ellipsoid_hossain(*, biot, width_ratio, length_ratio):
    """Dimensions of heat flow that an ellipsoid counts for: a single fish.

    biot           (n,)   –   with the half thickness, > 0
    width_ratio    (n,)   –   width over thickness, ≥ 1
    length_ratio   (n,)   –   length over thickness, at least the width's

    Returns (n,), 3 for a sphere, 2 for a long cylinder, 1 for a slab.
    Raises ValueError for a ratio or a Biot number that cannot be.
    Source: Hossain, Cleland & Cleland 1992, Int. J. Refrigeration 15:169, as ASHRAE has it, from memory.
    """
    biot, width, length = _sides(biot, width_ratio, length_ratio)
    # Divided through by the ratio's square, so that a side without end gives 0 and not inf/inf.
    shares = ((1 + 2 / biot) / (side * (side + 2 / biot)) for side in (width, length))
    return (1 + sum(shares))[()]


def plank_brick(*, width_ratio, length_ratio):
    """P and R of Plank's equation for a brick, whose fronts stay parallel to its faces.

    width_ratio    (n,)   –   width over thickness, ≥ 1
    length_ratio   (n,)   –   length over thickness, ≥ the width's, > 1, finite

    Returns (P, R), each (n,). They count a thick brick as too quick: see `dimensions_brick_cleland`.
    Raises ValueError for a ratio that cannot be.
    Source: Plank 1941, as Ede 1949 and Cleland & Earle 1982 print it, from memory.
    """
    _, width, length = _sides(1.0, width_ratio, length_ratio)
    _require("length_ratio", length, (length > 1) & np.isfinite(length), "above 1 and finite")
    root = np.sqrt((length - width) * (length - 1) + (width - 1) ** 2)
    middle = (length + width + 1) / 3
    upper, lower = (_plank_term(middle + sign * root / 3, width, length) for sign in (1, -1))
    r = (upper - lower) / (8 * root) + (2 * width + 2 * length - 1) / 72
    return width * length / (2 * (width * length + width + length)), r


def _plank_term(m, width, length):
    # At m = 1 the logarithm has no end, and its factor is nothing.
    shrinks = np.where(m > 1, m - 1, 1.0)
    return np.where(m > 1, shrinks * (length - m) * (width - m) * np.log(np.where(m > 1, m, 2) / shrinks), 0)


def _cleland(biot, ratio, figures):
    factor, power, thick, steep = figures
    start = factor / ratio**power
    # Cleland's Biot number is with the whole thickness; the finite volumes of the tests bear that out.
    share = start / ((2 * biot) ** CLELAND_POWER + start)
    return share / ratio + (1 - share) * thick / ratio**steep


def _sides(biot, width, length):
    width, length = np.asarray(width, float), np.asarray(length, float)
    _require("width_ratio", width, width >= 1, "1 or more")
    _require("length_ratio", length, length >= width, "1 or more, and no less than the width's")
    return _biot(biot), width, length


def _biot(biot):
    biot = np.asarray(biot, float)
    _require("biot", biot, (biot > 0) & np.isfinite(biot), "above 0 and finite")
    return biot


def _require(name, values, is_right, what):
    if not np.all(is_right):
        values, is_right = np.broadcast_arrays(values, is_right)
        raise ValueError(f"{name} must be {what}, not {values[~is_right].flat[0]}")
