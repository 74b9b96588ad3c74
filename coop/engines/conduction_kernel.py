"""Compiled heart of the conduction engine: explicit steps of enthalpy on a flat array of cells.

Enthalpy is kept as a position in a table that is uniform in enthalpy, so that a step costs a fish cell one
look-up and no division. Loops stay short and touch few arrays each, since only then does the compiler prove
that they do not overlap and emit vector instructions (measured: 130 against 550 million cells a second).
"""

import numba
import numpy as np

compiled = numba.njit(nogil=True, cache=True, error_model="numpy")

SUBCELLS = 2
"""The softened share and the warmest part are read from 2 × 2 × 2 points in each fish cell."""
TEMPERATURE_BINS = 256
DEVIATION_OF_EVEN = 12**-0.5
"""Standard deviation of what is spread evenly over a span of 1."""


@compiled
def net_flow(temperature, flow, conductance, total, gain, layer, row, count):
    """Net heat flow into each cell, W: what its six neighbours and the outside give, less what it gives."""
    middle = flow[layer : layer + count]
    x_up, x_down = temperature[2 * layer : 2 * layer + count], temperature[:count]
    y_up = temperature[layer + row : layer + row + count]
    y_down = temperature[layer - row : layer - row + count]
    gx_up, gx_down = conductance[0, layer : layer + count], conductance[0, :count]
    gy_up, gy_down = conductance[1, layer : layer + count], conductance[1, layer - row : layer - row + count]
    for p in range(count):
        middle[p] = gx_up[p] * x_up[p] + gx_down[p] * x_down[p] + gy_up[p] * y_up[p] + gy_down[p] * y_down[p]
    here = temperature[layer : layer + count]
    z_up, z_down = temperature[layer + 1 : layer + 1 + count], temperature[layer - 1 : layer - 1 + count]
    gz_up, gz_down = conductance[2, layer : layer + count], conductance[2, layer - 1 : layer - 1 + count]
    all_up, outside = total[layer : layer + count], gain[layer : layer + count]
    for p in range(count):
        middle[p] += gz_up[p] * z_up[p] + gz_down[p] * z_down[p] + outside[p] - all_up[p] * here[p]


@compiled
def warm_insulation(temperature, flow, passed, response, layer, count):
    """One step of every cell without fish (response K/W is 0 for fish); adds up temperatures for the heat."""
    here, into = temperature[layer : layer + count], flow[layer : layer + count]
    sums, rise = passed[layer : layer + count], response[layer : layer + count]
    for p in range(count):
        before = here[p]
        sums[p] += before
        here[p] = before + rise[p] * into[p]


@compiled
def warm_fish(temperature, flow, fish_cell, position, rise, table, table_step):
    """One step of every fish cell: enthalpy first, then the temperature that belongs to it."""
    # Thawed fish takes the same heat for every degree, so the last slope holds beyond the table's hot end.
    last = np.uint32(len(table) - 2)
    for q in range(len(fish_cell)):
        moved = position[q] + rise[q] * flow[np.uint32(fish_cell[q])]
        position[q] = moved
        entry = min(np.uint32(moved), last)
        temperature[np.uint32(fish_cell[q])] = table[entry] + (moved - entry) * table_step[entry]


@compiled
def set_conductances(conductance, conductivity, low, axis, area, half_low, half_high, shift, first):
    """Conductance W/K of the inner faces from `first` on: two half cells in series."""
    for f in range(first, len(low)):
        p = low[f]
        resistance = half_low[f] / conductivity[p] + half_high[f] / conductivity[p + shift[axis[f]]]
        conductance[axis[f], p] = area[f] / resistance


@compiled
def set_totals(total, conductance, layer, row, count):
    """Sum of the conductances of each cell's six inner faces."""
    for p in range(layer, layer + count):
        total[p] = (
            conductance[0, p]
            + conductance[0, p - layer]
            + conductance[1, p]
            + conductance[1, p - row]
            + conductance[2, p]
            + conductance[2, p - 1]
        )


@compiled
def set_surface(surface_conductance, conductivity, cell, side, area, half, film, board_resistance):
    """Conductance W/K from the outside air through film, board and half a cell."""
    for s in range(len(cell)):
        resistance = 1.0 / film[side[s]] + board_resistance + half[s] / conductivity[cell[s]]
        surface_conductance[s] = area[s] / resistance


@compiled
def longest_step(total, capacity, layer, count):
    """Longest time step s for which no cell can overshoot its neighbours."""
    step = np.inf
    for p in range(count):
        if total[layer + p] > 0.0:
            step = min(step, capacity[p] / total[layer + p])
    return step


@compiled
def slope(here, below, above, distance_below, distance_above):
    """Second-order slope at a point between two others at unequal distances."""
    return (distance_below**2 * (above - here) + distance_above**2 * (here - below)) / (
        distance_below * distance_above * (distance_below + distance_above)
    )


@compiled
def face_temperature(temperature, conductance, conductivity, p, neighbour, g, half, area):
    """Temperature of the face between a fish cell and its neighbour."""
    return temperature[p] + g * (temperature[neighbour] - temperature[p]) * half / (conductivity[p] * area)


@compiled
def axis_slope(temperature, conductance, conductivity, p, axis, shift, i, first, behind, width, area):
    """Slope K/m in a fish cell along one axis; at the edge of the fish its face counts, not insulation."""
    here = temperature[p]
    if i > first:
        below, distance_below = temperature[p - shift], (width[i] + width[i - 1]) / 2
    elif i == 0:
        below, distance_below = here, width[i]
    else:
        below = face_temperature(
            temperature,
            conductance,
            conductivity,
            p,
            p - shift,
            conductance[axis, p - shift],
            width[i] / 2,
            area,
        )
        distance_below = width[i] / 2
    if i < behind - 1:
        above, distance_above = temperature[p + shift], (width[i] + width[i + 1]) / 2
    elif i == len(width) - 1:
        above, distance_above = here, width[i]
    else:
        above = face_temperature(
            temperature, conductance, conductivity, p, p + shift, conductance[axis, p], width[i] / 2, area
        )
        distance_above = width[i] / 2
    return slope(here, below, above, distance_below, distance_above)


@compiled
def read_parts(
    temperature, conductance, conductivity, wx, wy, wz, begin, behind, shift, points, spans, weights
):
    """Temperatures in parts of the fish cells, linear in each, with range K and volume of each part."""
    count = 0
    inverse = 1.0 / SUBCELLS
    for ix in range(begin[0], behind[0]):
        for iy in range(begin[1], behind[1]):
            for iz in range(begin[2], behind[2]):
                p = (ix * len(wy) + iy) * len(wz) + iz + shift[0]
                args = (temperature, conductance, conductivity, p)
                sx = axis_slope(*args, 0, shift[0], ix, begin[0], behind[0], wx, wy[iy] * wz[iz]) * wx[ix]
                sy = axis_slope(*args, 1, shift[1], iy, begin[1], behind[1], wy, wx[ix] * wz[iz]) * wy[iy]
                sz = axis_slope(*args, 2, shift[2], iz, begin[2], behind[2], wz, wx[ix] * wy[iy]) * wz[iz]
                share = wx[ix] * wy[iy] * wz[iz] * inverse**3
                # A ramp as wide as this spreads as much as the temperature does within the part.
                span = np.sqrt(sx**2 + sy**2 + sz**2) * inverse
                for a in range(SUBCELLS):
                    from_x = temperature[p] + sx * ((a + 0.5) * inverse - 0.5)
                    for b in range(SUBCELLS):
                        from_y = from_x + sy * ((b + 0.5) * inverse - 0.5)
                        for c in range(SUBCELLS):
                            points[count] = from_y + sz * ((c + 0.5) * inverse - 0.5)
                            spans[count] = span
                            weights[count] = share
                            count += 1


@compiled
def share_above(points, spans, weights, limit):
    """Share of the weight above a limit; a part that the limit cuts through counts by how far it reaches."""
    above, whole = 0.0, 0.0
    for k in range(len(points)):
        reach = 0.5 + (points[k] - limit) / max(spans[k], 1e-9)
        above += weights[k] * min(max(reach, 0.0), 1.0)
        whole += weights[k]
    return above / whole


@compiled
def exceeded_by(points, spans, weights, share):
    """Temperature that the given share of the weight exceeds, from a histogram of narrow bins."""
    low, high, whole = np.inf, -np.inf, 0.0
    for k in range(len(points)):
        low = min(low, points[k] - DEVIATION_OF_EVEN * spans[k])
        high = max(high, points[k] + DEVIATION_OF_EVEN * spans[k])
        whole += weights[k]
    if high - low < 1e-9:
        return high
    bins = np.zeros(TEMPERATURE_BINS)
    scale = (TEMPERATURE_BINS - 1e-6) / (high - low)
    for k in range(len(points)):
        # Two points that spread as much as the temperature does within the part.
        aside = DEVIATION_OF_EVEN * spans[k]
        bins[int((points[k] - aside - low) * scale)] += 0.5 * weights[k]
        bins[int((points[k] + aside - low) * scale)] += 0.5 * weights[k]
    above, wanted = 0.0, share * whole
    for b in range(TEMPERATURE_BINS - 1, -1, -1):
        if above + bins[b] >= wanted:
            return low + (b + 1 - (wanted - above) / bins[b]) / scale
        above += bins[b]
    return low


@compiled
def to_mirror(inner, outer, distance_inner, distance_outer):
    """Value on a plane of symmetry, from the parabola through two cells beside it."""
    return inner - (outer - inner) * distance_inner**2 / (distance_outer**2 - distance_inner**2)


@compiled
def thermal_centre(temperature, wx, wy, wz, begin, behind, mirrored, shift, start):
    """Temperature °C in the middle of the fish, where it stays cold longest."""
    middle = np.empty(2)
    widths = (wx, wy, wz)
    inner = np.empty(3, np.int64)
    correction = 0.0
    for axis in range(3):
        inner[axis] = begin[axis] if mirrored[axis] else (begin[axis] + behind[axis]) // 2
    p = (inner[0] * len(wy) + inner[1]) * len(wz) + inner[2] + shift[0]
    for axis in range(3):
        width = widths[axis]
        i = inner[axis]
        if i + 1 >= behind[axis]:
            continue
        near, far = width[i] / 2, width[i] + width[i + 1] / 2
        middle[0], middle[1] = temperature[p], temperature[p + shift[axis]]
        if not mirrored[axis]:
            middle[0] = (temperature[p] + temperature[p - shift[axis]]) / 2
            middle[1] = (temperature[p + shift[axis]] + temperature[p - 2 * shift[axis]]) / 2
        correction += to_mirror(middle[0], middle[1], near, far) - temperature[p]
    # A parabola overshoots while warmth has not come so far: the middle stays between cell and start.
    if correction < 0:
        return max(temperature[p] + correction, min(temperature[p], start))
    return min(temperature[p] + correction, max(temperature[p], start))
