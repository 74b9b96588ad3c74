"""Heat through the walls of a box in steady state, by finite volumes: what shape factors are held against."""

import numpy as np
from scipy import sparse
from scipy.sparse import linalg


def numerical_shape_factor(inner, walls):
    """m, for fish at 0 and the outside at 1; `walls` are (low, high) along each axis of the `inner` sides."""
    coarse, fine = (_flow(inner, walls, cells) for cells in (5, 10))
    # At an edge of 270° the error falls with the 4/3 power of the cell.
    return fine + (fine - coarse) / (2 ** (4 / 3) - 1)


def _flow(inner, walls, cells):
    axes = [_axis(side, *wall, cells) for side, wall in zip(inner, walls, strict=True)]
    shape = [len(axis) for axis in axes]
    fish = np.zeros(shape, bool)
    fish[(slice(cells, -cells),) * 3] = True
    # Two cells that stand for the whole fish and the whole outside.
    count = (~fish).sum()
    number = np.full([side + 2 for side in shape], count + 1)
    number[1:-1, 1:-1, 1:-1] = np.where(fish, count, 0)
    number[1:-1, 1:-1, 1:-1][~fish] = np.arange(count)
    links = [_links(axes, number, count, axis) for axis in range(3)]
    low, high, conductance = (np.concatenate(column) for column in zip(*links, strict=True))
    network = sparse.coo_matrix((conductance, (low, high)), (count + 2, count + 2)).tocsr()
    network = network + network.T
    total = np.asarray(network.sum(axis=1)).ravel()[:count]
    matrix = sparse.diags(total) - network[:count, :count]
    outside = network[:count, count + 1].toarray().ravel()
    temperature, failed = linalg.cg(matrix, outside, rtol=1e-8, M=sparse.diags(1 / total))
    assert not failed
    return float(network[count, :count].toarray().ravel() @ temperature)


def _links(axes, number, count, axis):
    """Pairs of neighbours along one axis and the conductance between them; none within fish or outside."""
    half = np.concatenate([[0.0], axes[axis] / 2, [0.0]])
    inside = tuple(slice(None) if k == axis else slice(1, -1) for k in range(3))
    row = np.moveaxis(number[inside], axis, 0)
    half_of = np.where(row < count, half[:, None, None], 0.0)
    area = np.outer(*(axes[k] for k in range(3) if k != axis))
    low, high, distance = row[:-1], row[1:], half_of[:-1] + half_of[1:]
    wanted = (low < count) | (high < count)
    wide = np.broadcast_to(area, distance.shape)
    return low[wanted], high[wanted], wide[wanted] / distance[wanted]


def _axis(side, low, high, cells):
    """Widths that grow away from the face of the fish; those of the fish matter along its faces only."""
    grow = 1.25 ** (5 / cells * np.arange(cells))
    wall = grow / grow.sum()
    half = wall * side / 2
    return np.concatenate([low * wall[::-1], half, half[::-1], high * wall])
