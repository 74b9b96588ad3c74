"""Cells, faces and surfaces of a packed carton, as flat arrays for the conduction kernel."""

from dataclasses import dataclass

import numpy as np

FISH_CELLS_HALF = (5, 4, 4)
"""Cells from the middle of the fish to its face, along length, width and height."""
FISH_CELL_RATIO = 1.5
"""Each fish cell is this much wider than its neighbour nearer the face, where melting begins."""
FISH_CELL_MIN = 0.02
"""Mean width in metres below which fish is not cut further: a thin layer would only cost steps."""
INSULATION_CELL = 0.033
"""Width in metres that an insulation cell aims at; with the two figures above the hold of the common
carton stays within 1 % of that of a grid three times as fine (tests/engines/test_conduction_grid.py)."""
INSULATION_CELLS_MIN = 2
INSULATION_MIN = 0.005


@dataclass(frozen=True, kw_only=True)
class Grid:
    """Finite volumes of one carton. Cell index (x, y, z), z fastest; cells count from one x-layer on, so
    that in arrays padded by a layer at either end a shift by one layer never leaves the array."""

    widths: tuple[np.ndarray, np.ndarray, np.ndarray]
    fish_from: tuple[int, int, int]
    fish_to: tuple[int, int, int]
    mirrored: tuple[bool, bool, bool]
    volume: np.ndarray
    is_fish: np.ndarray
    face_low: np.ndarray
    face_axis: np.ndarray
    face_area: np.ndarray
    face_half_low: np.ndarray
    face_half_high: np.ndarray
    first_fish_face: int
    surface_cell: np.ndarray
    surface_side: np.ndarray
    surface_area: np.ndarray
    surface_half: np.ndarray

    @property
    def shape(self):
        return tuple(len(width) for width in self.widths)

    @property
    def symmetry(self):
        """How many times the computed part stands in the whole carton."""
        return 2 ** sum(self.mirrored)


def carton_grid(*, carton, load, refinement=1, mirror=True):
    """Grid of a packed carton, by quarters where opposite walls are alike.

    carton       Carton     as designed
    load         Load       what lies in it; the fill above the fish counts as top insulation
    refinement   int            1 is the grid in use; 2 is twice as fine along every axis
    mirror       bool           False keeps the whole box, for outside air that differs between opposite sides

    Returns Grid.
    Raises ValueError for a wall thinner than 5 mm, which conduction through insulation cannot describe.
    Source: finite volumes on a tensor grid; Patankar (1980), Numerical Heat Transfer and Fluid Flow, ch. 4.
    """
    left, right, front, back, bottom, top = carton.insulation
    thinnest = min(carton.insulation)
    if thinnest < INSULATION_MIN:
        raise ValueError(f"insulation is {thinnest} m on one face; at least {INSULATION_MIN} m is needed")
    fish_sides = (load.fish_length, load.fish_width, load.fish_height)
    walls = ((left, right), (front, back), (bottom, top + load.fill_above))
    mirrored = (*(mirror and low == high for low, high in walls[:2]), False)
    axes = [
        _axis(wall, side, most, refinement, mirrored=mirror_axis)
        for wall, side, most, mirror_axis in zip(walls, fish_sides, FISH_CELLS_HALF, mirrored, strict=True)
    ]
    return _grid(axes, mirrored)


def brick_grid(*, widths, fish_from, fish_to, mirrored=(False, False, False)):
    """Grid of a block with given cell widths, for cases with a known answer.

    widths      three arrays, m       cell widths along each axis
    fish_from   three ints            first fish cell of each axis
    fish_to     three ints            first cell behind the fish
    mirrored    three bools           whether the low end of an axis is a plane of symmetry

    Returns Grid.
    Raises ValueError for a width that is not positive.
    Source: as carton_grid.
    """
    for axis, width in zip("xyz", widths, strict=True):
        if not np.all(np.asarray(width) > 0):
            raise ValueError(f"widths along {axis} must be positive, not {width}")
    axes = [(np.asarray(w, float), a, b) for w, a, b in zip(widths, fish_from, fish_to, strict=True)]
    return _grid(axes, tuple(mirrored))


def _axis(walls, fish_side, most, refinement, *, mirrored):
    """Cell widths along one axis and the range that is fish."""
    half_cells = refinement * int(np.clip(fish_side / 2 / FISH_CELL_MIN, 1, most))
    half = FISH_CELL_RATIO ** (np.arange(half_cells)[::-1] / refinement)
    half *= fish_side / 2 / half.sum()
    low, high = (_insulation_cells(wall, refinement) for wall in walls)
    if mirrored:
        return np.concatenate([half, high]), 0, half_cells
    widths = np.concatenate([low, half[::-1], half, high])
    return widths, len(low), len(low) + 2 * half_cells


def _insulation_cells(thickness, refinement):
    count = max(INSULATION_CELLS_MIN, round(thickness / INSULATION_CELL)) * refinement
    return np.full(count, thickness / count)


def _grid(axes, mirrored):
    widths = tuple(axis[0] for axis in axes)
    fish_from = tuple(axis[1] for axis in axes)
    fish_to = tuple(axis[2] for axis in axes)
    shape = tuple(len(w) for w in widths)
    is_fish = np.zeros(shape, dtype=bool)
    is_fish[tuple(slice(a, b) for a, b in zip(fish_from, fish_to, strict=True))] = True
    volume = widths[0][:, None, None] * widths[1][None, :, None] * widths[2][None, None, :]
    return Grid(
        widths=widths,
        fish_from=fish_from,
        fish_to=fish_to,
        mirrored=mirrored,
        volume=volume.ravel(),
        is_fish=is_fish.ravel(),
        **_faces(widths, is_fish),
        **_surfaces(widths, mirrored),
    )


def _cell_numbers(shape):
    padding = shape[1] * shape[2]
    return np.arange(np.prod(shape)).reshape(shape) + padding


def _areas(widths, axis):
    """Area of the faces across one axis, by cell."""
    across = [np.ones_like(w) if k == axis else w for k, w in enumerate(widths)]
    return across[0][:, None, None] * across[1][None, :, None] * across[2][None, None, :]


def _faces(widths, is_fish):
    """Inner faces; those that touch no fish come first, since their conductance never changes."""
    number = _cell_numbers(is_fish.shape)
    columns = []
    for axis in range(3):
        low = [slice(None)] * 3
        high = [slice(None)] * 3
        low[axis], high[axis] = slice(None, -1), slice(1, None)
        low, high = tuple(low), tuple(high)
        half = (
            np.broadcast_to(widths[axis].reshape([-1 if k == axis else 1 for k in range(3)]), is_fish.shape)
            / 2
        )
        columns.append(
            (
                number[low].ravel(),
                np.full(number[low].size, axis),
                _areas(widths, axis)[low].ravel(),
                half[low].ravel(),
                half[high].ravel(),
                (is_fish[low] | is_fish[high]).ravel(),
            )
        )
    low, axis, area, half_low, half_high, fishy = (
        np.concatenate(column) for column in zip(*columns, strict=True)
    )
    order = np.argsort(fishy, kind="stable")
    return {
        "face_low": low[order],
        "face_axis": axis[order],
        "face_area": area[order],
        "face_half_low": half_low[order],
        "face_half_high": half_high[order],
        "first_fish_face": int(np.count_nonzero(~fishy)),
    }


def _surfaces(widths, mirrored):
    """Outer faces; sides are numbered left, right, front, back, bottom, top as in carton.FACES."""
    shape = tuple(len(w) for w in widths)
    number = _cell_numbers(shape)
    cells, sides, areas, halves = [], [], [], []
    for axis in range(3):
        area = _areas(widths, axis)
        for end, position in ((0, 0), (1, -1)):
            if end == 0 and mirrored[axis]:
                continue
            layer = np.take(number, position, axis=axis).ravel()
            cells.append(layer)
            sides.append(np.full(layer.size, 2 * axis + end))
            areas.append(np.take(area, position, axis=axis).ravel())
            halves.append(np.full(layer.size, widths[axis][position] / 2))
    return {
        "surface_cell": np.concatenate(cells),
        "surface_side": np.concatenate(sides),
        "surface_area": np.concatenate(areas),
        "surface_half": np.concatenate(halves),
    }
