"""Compiled run of one scenario after another; the threads of conduction.warming each take a share of them."""

from typing import NamedTuple

import numpy as np

from coop.engines import conduction_kernel as kernel
from coop.engines.conduction_kernel import SUBCELLS, compiled

SAFETY = 0.9
"""Share of the longest stable step that is used."""


class Cells(NamedTuple):
    """conduction_grid.Grid as plain arrays."""

    wx: np.ndarray
    wy: np.ndarray
    wz: np.ndarray
    fish_from: np.ndarray
    fish_to: np.ndarray
    mirrored: np.ndarray
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


class Law(NamedTuple):
    """How fish thaws, over its position in a table uniform in enthalpy."""

    temperature: np.ndarray
    slope: np.ndarray
    conductivity: np.ndarray
    most_conductive: float
    least_heat: float
    enthalpy_step: float
    soft_above: float
    density: float


class Case(NamedTuple):
    """What differs between scenarios, and what they share."""

    start: np.ndarray
    insulation_start: np.ndarray
    insulation_conductivity: np.ndarray
    weather: np.ndarray
    outside: np.ndarray
    film: np.ndarray
    insulation_heat: float
    board_resistance: float
    board_heat: float


class Clock(NamedTuple):
    """Intervals of constant weather, and after how many of them something is done."""

    interval: float
    intervals: np.ndarray
    read_every: int
    refresh_every: int
    stop_at: float
    warmest_share: float


class Readings(NamedTuple):
    """Results, scenario by reading."""

    core: np.ndarray
    mean: np.ndarray
    warmest: np.ndarray
    softened: np.ndarray
    heat_gained: np.ndarray
    heat_stored: np.ndarray


class State(NamedTuple):
    """One carton while it warms: padded arrays over cells, then arrays over fish cells and surfaces."""

    temperature: np.ndarray
    flow: np.ndarray
    passed: np.ndarray
    inner_total: np.ndarray
    total: np.ndarray
    gain: np.ndarray
    response: np.ndarray
    capacity: np.ndarray
    conductivity: np.ndarray
    conductance: np.ndarray
    surface: np.ndarray
    fish_cell: np.ndarray
    fish_volume: np.ndarray
    position: np.ndarray
    rise: np.ndarray
    points: np.ndarray
    spans: np.ndarray
    weights: np.ndarray
    shift: np.ndarray


@compiled
def run_share(first, behind, cells, law, case, clock, readings):
    """Runs scenarios first … behind − 1."""
    for n in range(first, behind):
        run_one(n, cells, law, case, clock, readings)


@compiled
def run_one(n, cells, law, case, clock, readings):
    """Follows one carton from closing to the last interval, or until enough of the fish has softened."""
    state = fresh_state(n, cells, law, case)
    steps = steps_an_interval(n, cells, law, case, clock, state)
    step = clock.interval / steps
    fill(n, cells, law, case, state, step)
    first_temperature = state.temperature.copy()
    heat = 0.0
    for t in range(clock.intervals[n] + 1):
        renewed = t % clock.refresh_every == 0
        if renewed:
            refresh(cells, law, state)
        if t % clock.read_every == 0:
            k = t // clock.read_every
            read(n, k, cells, law, case, state, clock.warmest_share, readings)
            read_heat(n, k, cells, law, case, state, first_temperature, heat, readings)
            if readings.softened[n, k] >= clock.stop_at:
                return
        if t < clock.intervals[n]:
            if renewed or film_changes(case.film[case.weather[n]], t):
                face_air(cells, case, state, case.film[case.weather[n], t])
            heat += pass_interval(n, t, cells, law, case, state, steps, step)


@compiled
def fresh_state(n, cells, law, case):
    """State before anything has flowed."""
    layer, count = len(cells.wy) * len(cells.wz), len(cells.volume)
    padded = count + 2 * layer
    fish = np.flatnonzero(cells.is_fish)
    points = len(fish) * SUBCELLS**3
    nothing = np.zeros(padded)
    return State(
        *(nothing.copy(), nothing.copy(), nothing.copy()),
        *(nothing.copy(), nothing.copy(), nothing.copy(), nothing),
        np.where(cells.is_fish, law.density * law.least_heat, case.insulation_heat) * cells.volume,
        np.ones(padded),
        np.zeros((3, padded)),
        np.zeros(len(cells.surface_cell)),
        (fish + layer).astype(np.uint32),
        cells.volume[fish],
        np.full(len(fish), case.start[n]),
        np.zeros(len(fish)),
        np.empty(points),
        np.empty(points),
        np.empty(points),
        np.array((layer, len(cells.wz), 1)),
    )  # fmt: skip


@compiled
def steps_an_interval(n, cells, law, case, clock, state):
    """Steps that stay stable even with the fish at its most conductive and least heat-absorbing."""
    layer, count = state.shift[0], len(cells.volume)
    state.conductivity[layer : layer + count] = np.where(
        cells.is_fish, law.most_conductive, case.insulation_conductivity[n]
    )
    for s in range(len(cells.surface_cell)):
        p = cells.surface_cell[s] - layer
        if not cells.is_fish[p]:
            state.capacity[p] += case.board_heat * cells.surface_area[s]
    connect(cells, state, 0)
    strongest = np.empty(6)
    for side in range(6):
        strongest[side] = case.film[case.weather[n], : max(clock.intervals[n], 1), side].max()
    face_air(cells, case, state, strongest)
    longest = kernel.longest_step(state.total, state.capacity, layer, count)
    return int(np.ceil(clock.interval / (SAFETY * longest)))


@compiled
def fill(n, cells, law, case, state, step):
    """Temperatures at closing, and how far each cell answers to a watt in one step."""
    layer, count = state.shift[0], len(cells.volume)
    cold = look_up(law.temperature, case.start[n])
    state.temperature[layer : layer + count] = np.where(cells.is_fish, cold, case.insulation_start[n])
    state.response[layer : layer + count] = np.where(cells.is_fish, 0.0, step / state.capacity)
    state.rise[:] = step / (law.enthalpy_step * law.density * state.fish_volume)


@compiled
def connect(cells, state, first):
    """Conductances of the inner faces from `first` on, and their sum by cell."""
    kernel.set_conductances(
        state.conductance, state.conductivity, cells.face_low, cells.face_axis, cells.face_area,
        cells.face_half_low, cells.face_half_high, state.shift, first,
    )  # fmt: skip
    kernel.set_totals(state.inner_total, state.conductance, state.shift[0], state.shift[1], len(cells.volume))


@compiled
def film_changes(film, t):
    """Whether any side has another film in interval t than in the one before."""
    return t == 0 or bool(np.any(film[t] != film[t - 1]))


@compiled
def face_air(cells, case, state, film):
    """Conductance from each surface cell to the outside air."""
    kernel.set_surface(
        state.surface, state.conductivity, cells.surface_cell, cells.surface_side, cells.surface_area,
        cells.surface_half, film, case.board_resistance,
    )  # fmt: skip
    state.total[:] = state.inner_total
    for s in range(len(cells.surface_cell)):
        state.total[cells.surface_cell[s]] += state.surface[s]


@compiled
def refresh(cells, law, state):
    """Conductivity of the fish as it is now; it moves so slowly that once an hour is enough."""
    for q in range(len(state.fish_cell)):
        state.conductivity[state.fish_cell[q]] = look_up(law.conductivity, state.position[q])
    connect(cells, state, cells.first_fish_face)


@compiled
def pass_interval(n, t, cells, law, case, state, steps, step):
    """Steps through one interval; returns the heat J that came in through the surfaces."""
    layer, row, count = state.shift[0], state.shift[1], len(cells.volume)
    outside = case.outside[case.weather[n], t]
    state.gain[:] = 0.0
    for s in range(len(cells.surface_cell)):
        state.gain[cells.surface_cell[s]] += state.surface[s] * outside[cells.surface_side[s]]
    state.passed[:] = 0.0
    for _ in range(steps):
        kernel.net_flow(
            state.temperature, state.flow, state.conductance, state.total, state.gain, layer, row, count
        )
        kernel.warm_insulation(state.temperature, state.flow, state.passed, state.response, layer, count)
        kernel.warm_fish(
            state.temperature,
            state.flow,
            state.fish_cell,
            state.position,
            state.rise,
            law.temperature,
            law.slope,
        )
    heat = 0.0
    for s in range(len(cells.surface_cell)):
        air = outside[cells.surface_side[s]]
        heat += state.surface[s] * step * (steps * air - state.passed[cells.surface_cell[s]])
    return heat


@compiled
def read(n, k, cells, law, case, state, warmest_share, readings):
    """Writes middle, mean, warmest part and softened share as reading k of scenario n."""
    kernel.read_parts(
        state.temperature, state.conductance, state.conductivity, cells.wx, cells.wy, cells.wz,
        cells.fish_from, cells.fish_to, state.shift, state.points, state.spans, state.weights,
    )  # fmt: skip
    centre = kernel.thermal_centre(
        state.temperature, cells.wx, cells.wy, cells.wz, cells.fish_from, cells.fish_to, cells.mirrored,
        state.shift, look_up(law.temperature, case.start[n]),
    )  # fmt: skip
    readings.core[n, k] = centre
    fish_sum = 0.0
    for q in range(len(state.fish_cell)):
        fish_sum += state.temperature[state.fish_cell[q]] * state.fish_volume[q]
    readings.mean[n, k] = fish_sum / state.fish_volume.sum()
    readings.warmest[n, k] = kernel.exceeded_by(state.points, state.spans, state.weights, warmest_share)
    readings.softened[n, k] = kernel.share_above(state.points, state.spans, state.weights, law.soft_above)


@compiled
def read_heat(n, k, cells, law, case, state, first_temperature, heat, readings):
    """Writes the heat that came in and the heat that the cells hold."""
    readings.heat_gained[n, k] = heat
    stored = ((state.position - case.start[n]) * state.fish_volume).sum() * law.enthalpy_step * law.density
    layer = state.shift[0]
    for p in range(len(cells.volume)):
        if not cells.is_fish[p]:
            stored += state.capacity[p] * (state.temperature[layer + p] - first_temperature[layer + p])
    readings.heat_stored[n, k] = stored


@compiled
def look_up(table, position):
    """Value of a table at a position between its entries."""
    entry = min(int(position), len(table) - 2)
    return table[entry] + (position - entry) * (table[entry + 1] - table[entry])
