"""The way of a carton from the taxi park to the buyer's freezer, in stages."""

from dataclasses import dataclass

import numpy as np

from coop.engines.ambient import Carries, Stages

FOR_EVER = 1e9


@dataclass(frozen=True)
class Way:
    """Stages from taxi park to the buyer's freezer; `lengths` s of those between departure and arrival."""

    start_place: np.ndarray
    end_place: np.ndarray
    carries: np.ndarray
    lengths: np.ndarray
    last_stretch: float
    offset: float

    @property
    def mean_travel(self):
        return self.lengths.sum() + self.last_stretch


def stages_of(way, waits, travels):
    """Stages of each journey: the wait, the legs and stops stretched to its travel time, the buyer's door."""
    stretch = np.asarray(travels) / way.mean_travel
    ends = np.asarray(waits)[:, None] + np.cumsum(way.lengths) * stretch[:, None]
    return Stages(
        ends=np.column_stack([waits, ends, np.full(len(ends), FOR_EVER)]),
        start_place=way.start_place,
        end_place=way.end_place,
        carries=way.carries,
    )


def way_of(legs, *, rides, waits, waits_at_buyer, last_stretch, offset):
    """The stages of a route: legs of (start place number, end place number, mean s, mean stop s)."""
    # A carton on a roof stands in the sun while the vehicle stops; inside, stopping changes nothing.
    stops = Carries.SUN if rides == Carries.ROOF else rides
    start, end, carries, lengths = [legs[0][0]], [legs[0][0]], [waits], []
    for leg_start, leg_end, mean, stop in legs:
        start += [leg_start, leg_end]
        end += [leg_end, leg_end]
        carries += [rides, stops]
        lengths += [mean, stop]
    last = legs[-1][1]
    return Way(
        start_place=np.array([*start, last]),
        end_place=np.array([*end, last]),
        carries=np.array([*carries, waits_at_buyer]),
        lengths=np.array(lengths, float),
        last_stretch=last_stretch,
        offset=offset,
    )
