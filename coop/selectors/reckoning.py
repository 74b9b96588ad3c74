"""What a phone needs to work out one departure again for other fish: loads and start temperatures.

A phone reads between the nodes by straight lines. They are lowered by more than that may overshoot, so that
it never hopes for more than the full computation; tests/benchmarks/test_reckoning.py measures it.
"""

import math
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from itertools import pairwise, product
from threading import Lock

import numpy as np
from django.conf import settings
from django.core.cache import cache

from coop.engines import departure
from coop.errors import NotFound
from coop.selectors.cost import prices_for
from coop.selectors.departure_judgement import as_planned, kept_back, last_hard, planned_holds, softened_share
from coop.selectors.departure_slots import digest, draws_of, refusal_of, rows_of, slots_of
from coop.selectors.departures import Plan, packing_of, plan_of
from coop.selectors.reckoning_bill import BillTerms, bill_terms
from coop.selectors.reckoning_nodes import candidates, nodes_among
from coop.selectors.species import softens_at
from coop.selectors.thermal_runs import planned_runs, table_by_wait

LOADS = (
    *(0.1, 0.115, 0.13, 0.15, 0.17, 0.2, 0.23, 0.26, 0.3, 0.34, 0.38),
    *(0.43, 0.48, 0.54, 0.6, 0.67, 0.74, 0.82, 0.9, 0.95, 1.0),
)
"""Of what fits into one carton: where nodes may lie."""
STARTS = (
    *(-30.0, -28.0, -26.0, -24.0, -22.0, -20.0, -18.0, -16.0, -15.0, -14.0, -13.5),
    *(-13.0, -12.5, -12.0, -11.5, -11.0, -10.5, -10.0, -9.5, -9.0, -8.5, -8.0),
)
"""°C of the fish when the carton is closed: where nodes may lie."""
KEPT_HOLD = 0.99
KEPT_SECONDS = 30.0
KEPT_WAIT = 0.98
KEPT_ODDS = 0.12
KEPT_SOFT = 0.3
"""What is left of the hold, less some seconds, and of the time beyond the planned wait; what the log of the
odds loses, and what is added to the softened share."""
HOPELESS, HOPELESS_KEPT = 0.4, 0.8
"""Where fewer draws are hard as planned, later waits are not followed: they could only lower it."""
NO_HOUR = -60.0
NEARER = 3
"""So many of the warmest start temperatures get others between them."""
COLDER = 1.5
"""K that fish has to be below the limit, or below where it softens."""
LEAST_CHANCE, MOST_CHANCE = 1e-4, 0.9995
ONE_AT_A_TIME = Lock()


@dataclass(frozen=True)
class HoldGrid:
    """Nodes: kg in one carton (m,), °C (t,). At each, (m, t): cautious hold s, log of the odds of arriving
    hard, latest safe departure s since closing (NO_HOUR where none is safe), softened share.
    """

    masses_kg: tuple[float, ...]
    starts_c: tuple[float, ...]
    hold: np.ndarray
    log_odds: np.ndarray
    latest: np.ndarray
    softened: np.ndarray


@dataclass(frozen=True)
class Reckoning:
    """One departure with one carton design, as a phone works it out again; maybe without a grid."""

    plan: Plan
    design: object
    grid: HoldGrid | None
    bill: BillTerms


def reckoning(question, name) -> Reckoning:
    """Of the departure of a name; the question has one day and one design, its fish counts as any."""
    rows = rows_of(question)
    (design,), slots = question.designs, slots_of(question, rows)
    slot = next((slot for slot in slots if key_of(slot, design) == name), None)
    if slot is None:
        raise NotFound(f"no departure is called {name}")
    plan = plan_of(question, rows, slot, {slot.timetable.pk: draws_of(question, rows, slot.timetable)})
    prices = prices_for(question.cooperative, question.route, question.buyer, question.species)
    bill = bill_terms(prices, carrier=slot.carrier, design=design, day=slot.day, with_fish=question.with_fish)
    refused = refusal_of(question, slot)
    return Reckoning(plan, design, None if refused else hold_grid(question, rows, plan, design), bill)


def key_of(slot, design):
    return f"{slot.timetable.pk}-{slot.departs_at:%Y%m%d}-{design.slug}"


def hold_grid(question, rows, plan, design) -> HoldGrid | None:
    """HoldGrid of a carton on a departure, remembered; days that differ in nothing share it."""
    starts = starts_for(question.species, plan.slot.standard)
    if len(starts) < 2:
        return None
    slot = plan.slot
    about = (question.species, question.buyer, question.route, slot.timetable, slot.carrier, plan.same)
    key = "reckoning:" + digest(about, design, rows.legs, rows.places, rows.trips)
    return cache.get(key) or worked_out_once(key, lambda: work_out(question, plan, design, starts))


def worked_out_once(key, work):
    """What `work` gives, once for all who ask at the same time.

    It takes all cores for a while: whoever asks for another one meanwhile waits, too.
    """
    with ONE_AT_A_TIME:
        found = cache.get(key)
        if found is None:
            found = work()
            cache.set(key, found, timeout=settings.ANSWER_SECONDS)
    return found


def starts_for(species, standard):
    """Start temperatures where nodes may lie: below a limit of temperature nearer, too near it none.

    There the hold bends, where it is as long as the first reading takes to come.
    """
    warmest, of_temperature = softens_at(species), standard.limit_kind != "softened_share"
    if of_temperature:
        warmest = min(standard.limit_value, warmest)
    starts = tuple(start for start in STARTS if start <= warmest - COLDER)
    between = ((cold + warm) / 2 for cold, warm in pairwise(starts[-NEARER:])) if of_temperature else ()
    return tuple(sorted({*starts, *between}))


def work_out(question, plan, design, starts):
    with ThreadPoolExecutor(settings.CORES) as pool:
        loads = candidates(design, LOADS)
        nodes = nodes_among(pool, question, plan, design, masses=loads, starts=starts)
        wanted = product(nodes.masses, nodes.starts)
        found = list(pool.map(lambda node: node_of(question, plan, design, *node), wanted))
    figures = np.array(found).reshape(len(nodes.masses), len(nodes.starts), -1)
    held = figures[..., 0] * (KEPT_HOLD - nodes.overshoot) - KEPT_SECONDS
    figures[..., 0] = np.maximum(held, 0.0)
    return HoldGrid(nodes.masses, nodes.starts, *np.moveaxis(figures, -1, 0))


def node_of(question, plan, design, mass_kg, start_temperature_c):
    """The figures of one node, each on the cautious side."""
    fish = replace(question, mass_kg=mass_kg, start_temperature_c=start_temperature_c)
    _, packed, _ = packing_of(fish, design, plan.slot.standard)
    outing, confidence = plan.outing, plan.slot.standard.confidence
    runs = planned_runs(packed, outing)
    found, spare = as_planned(runs=runs, draws=plan.draws, receiving=plan.receiving, wait=outing.wait)
    chance, beyond = HOPELESS_KEPT * float((spare >= 0).mean()), -math.inf
    if chance >= HOPELESS:
        runs = replace(runs, by_wait=table_by_wait(runs, packed, outing))
        last, chance = last_hard(runs, plan.draws, plan.receiving, outing.wait, spare)
        beyond = kept_back(departure.safe_wait(last=last, confidence=confidence), outing.wait) - outing.wait
    likely = np.clip(chance, LEAST_CHANCE, MOST_CHANCE)
    _, cautious = planned_holds(runs.planned, confidence)
    return (
        cautious,
        np.log(likely / (1 - likely)) - KEPT_ODDS,
        outing.wait + KEPT_WAIT * beyond if beyond >= 0 else NO_HOUR,
        more_softened(softened_share(runs, outing.travel, plan.draws, found)),
    )


def more_softened(share):
    """A share that softens, raised the more the larger it is: there straight lines fall short of its bend."""
    return min(1.0, share * (1 + KEPT_SOFT * share))
