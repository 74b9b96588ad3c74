"""The engines before anybody asks them: compiled once for each state of their source, then kept."""

import os
import time
from pathlib import Path

import numpy as np

from coop.engines import departure
from coop.engines.consolidation import Lot, Offer, plan
from coop.engines.consolidation_anneal import Annealing
from coop.engines.consolidation_day import reduced
from coop.engines.departure import Draws, HoldTable, Receiving
from coop.management.commands.hold_table import PLACES, hold_words


def are_compiled():
    """Whether numba has something to read; the settings name the folder after the engines' source."""
    kept = Path(os.environ["NUMBA_CACHE_DIR"])
    return kept.is_dir() and any(kept.rglob("*.nbc"))


def warm_up():
    """Runs each compiled engine once, so that the first person does not wait for the compiler."""
    hold_words(150.0, -18.0, next(iter(PLACES.values())))
    one, hour = np.ones(1), np.full(1, 3600.0)
    table = HoldTable(hour, hour, one, np.full((1, 1, 1), 7200.0))
    draws, receiving = Draws(hour, hour, one), Receiving(np.zeros(1), np.full(1, np.inf), np.inf)
    departure.last_hard_departures(table=table, draws=draws, receiving=receiving)
    found = departure.as_planned(table=table, draws=draws, receiving=receiving, wait=3600.0)
    departure.expected_softened_share(
        travel_nodes=hour,
        deviation_nodes=one,
        softened=np.zeros((1, 1, 2)),
        reading_step=3600.0,
        draws=draws,
        handed_over=found.handed_over,
    )
    plan_a_day()


def plan_a_day():
    """Three lots for two cartons; a day so small is proven at once, so its lots are annealed besides."""
    hours = {"closes_at": 0.0, "leaves_at": 1.0, "hands_over_by": 2.0}
    lots = [Lot(key=mass, mass=mass, may_split=mass > 40) for mass in (35, 45, 55)]
    offer = Offer(key="one", departure="one", **hours, capacity=80, allowed=(True,) * 3, carton_cost=1)
    plan(lots, [offer], places={"one": 2}, time_limit=60.0, gap=0.0, clock=time.monotonic)
    day = reduced(lots, [offer], places={"one": 2}, may_not_share=())
    rng = np.random.default_rng(0)
    Annealing(day, price=0.01).better((), rng=rng, hot=0.1, is_late=lambda: False)
