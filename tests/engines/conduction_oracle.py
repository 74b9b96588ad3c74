"""The conduction engine once more, plainly: whole arrays in numpy, nothing compiled, nothing flat.

It shares with the engine only the cell widths and the thaw law; the tests hold the two together.
"""

import numpy as np

from coop.engines.conduction import BOARD_DENSITY, BOARD_SPECIFIC_HEAT


class Oracle:
    """One carton under constant weather; `heat` J/m³-weighted state per cell is enthalpy or ρ c T."""

    def __init__(
        self,
        *,
        grid,
        law,
        insulation_conductivity,
        insulation_heat,
        outside,
        film,
        board_resistance=0.0,
        board_thickness=0.0,
    ):
        self.law, self.grid = law, grid
        self.shape = grid.shape
        self.fish = grid.is_fish.reshape(self.shape)
        self.volume = grid.volume.reshape(self.shape)
        self.insulation_conductivity = insulation_conductivity
        self.outside, self.film, self.board = outside, film, board_resistance
        self.capacity = insulation_heat * self.volume
        board_heat = board_thickness * BOARD_DENSITY * BOARD_SPECIFIC_HEAT
        for axis, end in self._ends():
            layer = self._layer(axis, end)
            self.capacity[layer] += np.where(self.fish[layer], 0.0, board_heat * self._area(axis)[layer])
        self.enthalpy_axis = law.enthalpy_from + law.enthalpy_step * np.arange(len(law.temperature))

    def start(self, position, insulation_temperature):
        """State: heat J of every cell; the fish by its position in the law's table."""
        enthalpy = self.law.enthalpy_from + self.law.enthalpy_step * position
        cold = enthalpy * self.law.density * self.volume
        return np.where(self.fish, cold, self.capacity * insulation_temperature)

    def temperature(self, heat):
        enthalpy = heat / (self.law.density * self.volume)
        thawing = np.interp(enthalpy, self.enthalpy_axis, self.law.temperature)
        return np.where(self.fish, thawing, heat / self.capacity)

    def conductivity(self, heat):
        enthalpy = heat / (self.law.density * self.volume)
        of_fish = np.interp(enthalpy, self.enthalpy_axis, self.law.conductivity)
        return np.where(self.fish, of_fish, self.insulation_conductivity)

    def flow(self, heat, conductivity=None):
        """Net heat W into every cell, and the heat W that comes in from outside."""
        temperature = self.temperature(heat)
        conductivity = self.conductivity(heat) if conductivity is None else conductivity
        flow = np.zeros(self.shape)
        for axis in range(3):
            low = [slice(None)] * 3
            high = [slice(None)] * 3
            low[axis], high[axis] = slice(None, -1), slice(1, None)
            low, high = tuple(low), tuple(high)
            half = self._half(axis) / conductivity
            between = self._area(axis)[low] / (half[low] + half[high])
            moved = between * (temperature[high] - temperature[low])
            flow[low] += moved
            flow[high] -= moved
        entered = 0.0
        for axis, end in self._ends():
            layer = self._layer(axis, end)
            side = 2 * axis + end
            resistance = 1 / self.film[side] + self.board + (self._half(axis) / conductivity)[layer]
            gain = self._area(axis)[layer] / resistance * (self.outside[side] - temperature[layer])
            flow[layer] += gain
            entered += gain.sum()
        return flow, entered

    def run(self, heat, *, step, steps, refresh_every):
        """Explicit steps; the conductivity of the fish is renewed every so many steps, as in the engine."""
        entered = 0.0
        for n in range(steps):
            if n % refresh_every == 0:
                conductivity = self.conductivity(heat)
            flow, gain = self.flow(heat, conductivity)
            heat = heat + step * flow
            entered += step * gain
        return heat, entered

    def fish_mean(self, heat):
        return np.average(self.temperature(heat)[self.fish], weights=self.volume[self.fish])

    def _ends(self):
        return [(a, e) for a in range(3) for e in (0, 1) if e == 1 or not self.grid.mirrored[a]]

    def _layer(self, axis, end):
        layer = [slice(None)] * 3
        layer[axis] = -1 if end else 0
        return tuple(layer)

    def _half(self, axis):
        across = [-1 if k == axis else 1 for k in range(3)]
        return np.broadcast_to(self.grid.widths[axis].reshape(across) / 2, self.shape)

    def _area(self, axis):
        return self.volume / (2 * self._half(axis))
