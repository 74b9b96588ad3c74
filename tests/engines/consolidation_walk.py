"""A walk of compiled moves, seen from outside: what every table must add up to after each."""

import numpy as np

from coop.engines import consolidation_anneal_kernel as kernel
from coop.engines.consolidation_anneal_moves import draw


class Walk:
    """A day's tables while moves are drawn, weighed, and kept or undone."""

    def __init__(self, found, *, seed=1, is_framed=False):
        annealing = found.annealing
        self.found, self.is_framed = found, is_framed
        self.state = annealing._state(found.start, annealing._most(len(found.start)))
        self.fares = annealing._fares()
        for offer, (count, grams) in enumerate(self.state.offers[:, kernel.CARTONS :].tolist()):
            self.state.paid[offer] = kernel.fare_of(self.fares, offer, count, grams)
        self.luck = np.array([seed * 88172645463325252 % 2**64 or 1], np.uint64)
        self.moves = np.zeros((len(annealing.lots) + 8, 4), np.int64)
        self.sums = np.zeros(2)

    @property
    def tables(self):
        """What `put` writes."""
        return self.state[:6]

    def draw(self):
        return draw(self.luck, *self.state[:7], self.moves, self.is_framed)

    def weigh(self, count):
        return kernel.weigh(*self.state, self.fares, self.moves, count, self.sums, 0.0)

    def undo(self, count):
        kernel.undo(*self.tables, self.moves, count)

    def settle(self, count):
        kernel.settle(self.state.cartons, self.state.offers, self.state.paid, self.fares, self.moves, count)

    def copy(self):
        """What counts of the tables: the home of a divisible lot does not, nor in which order lots lie."""
        lots, *others, inside = (table.copy() for table in self.tables)
        lots[lots[:, kernel.DIVISIBLE] > 0, kernel.HOME] = -1
        for carton, number in enumerate(self.state.cartons[:, kernel.NUMBER].tolist()):
            inside[carton] = [*np.sort(inside[carton, :number]), *(inside.shape[1] - number) * (-1,)]
        return [lots, *others, inside]

    def unsound(self):
        """Tables that do not add up to what lies where, by name."""
        state = self.state
        lots, cartons, offers = state.lots, state.cartons, state.offers
        whole = state.amount.sum(axis=0) + lots[:, kernel.STAYS]
        held, used = state.amount > 0, (state.amount > 0).any(axis=1)
        bulk = -(-state.amount * lots[:, kernel.VOLUME] // lots[:, kernel.PART])
        places = np.zeros(len(state.places), np.int64)
        right = {
            "lots": (whole == [self.found.day.class_mass(row) for row in self.found.annealing.lots]).all(),
            "amounts": (state.amount >= 0).all() and (lots[:, kernel.STAYS] >= 0).all(),
            "load": (cartons[:, kernel.LOAD] == state.amount.sum(axis=1)).all(),
            "bulk": (cartons[:, kernel.BULK] == bulk.sum(axis=1)).all(),
            "number": (cartons[:, kernel.NUMBER] == held.sum(axis=1)).all(),
            "inside": all(
                {*state.inside[carton, : held[carton].sum()].tolist()} == {*np.flatnonzero(held[carton])}
                for carton in range(len(cartons))
            ),
        }
        for offer in range(len(offers)):
            own = used & (cartons[:, kernel.OFFER] == offer)
            right[f"cartons of {offer}"] = offers[offer, kernel.CARTONS] == own.sum()
            right[f"g of {offer}"] = offers[offer, kernel.GRAMS] == state.amount[own].sum()
            places[offers[offer, kernel.DEPARTURE]] += own.sum() * offers[offer, kernel.TAKES]
        right["places"] = (state.places[:, kernel.TAKEN] == places).all()
        return [name for name, is_right in right.items() if not is_right]

    def fares_paid(self):
        """Minor units of all consignments and of what stays, worked out anew."""
        carried = self.state.offers[:, kernel.CARTONS :].tolist()
        fares = sum(kernel.fare_of(self.fares, offer, *load) for offer, load in enumerate(carried))
        return fares + float(self.state.lots[:, kernel.STAYS] @ self.state.worth[:, 0])
