"""Which fillings of a carton are safe on which departures: judged once, remembered, never hoped for."""

import math
from bisect import bisect_left
from dataclasses import dataclass, field, replace

import numpy as np
from django.conf import settings
from django.core.cache import cache

from coop.engines.carton import capacity
from coop.selectors.departure_judgement import judge
from coop.selectors.departure_slots import Question, Rows, digest, draws_of, slots_of
from coop.selectors.departures import packing_of, plan_of
from coop.selectors.engine_inputs import carton_of
from coop.selectors.packing import LEAST_SHARE
from coop.selectors.thermal_runs import (
    FAR_TRAVEL,
    SOFT_ENOUGH,
    follow,
    hold_tables,
    limit_level,
    warmest_share,
)
from coop.selectors.timetables import vehicle_key
from coop.selectors.usable_cartons import fault_of_design

NEVER = math.inf
"""Kilograms from which a carton is safe that never is."""
SURELY_HARD = 0.75
"""No carton has a greater chance that softens on a usual trip in a usual wall."""


@dataclass(frozen=True)
class Fills:
    """What is known of one design on one departure: kg at which it was safe, and kg at which it was not."""

    safe_kg: float = NEVER
    unsafe_kg: float = 0.0

    def knows(self, mass_kg):
        return mass_kg >= self.safe_kg or mass_kg <= self.unsafe_kg

    def with_one(self, mass_kg, *, is_safe):
        if is_safe:
            return replace(self, safe_kg=min(self.safe_kg, mass_kg))
        return replace(self, unsafe_kg=max(self.unsafe_kg, mass_kg))


@dataclass
class SafeFills:
    """Departures of one question, and from what mass on a carton of each design is safe there.

    A carton that is safe counts as safe with more in it, one that is not as unsafe with less. That serves to
    reckon costs and to propose; a carton that travels is judged with its own kilograms.
    """

    question: Question
    species: tuple
    rows: Rows
    journeys: dict
    known: dict = field(default_factory=dict)
    others: dict = field(default_factory=dict)

    def __post_init__(self):
        # What a judgement rests on besides its departure, so that other days may remember it too.
        self.about = digest(replace(self.question, first_day=None, last_day=None), self.rows)
        slots = slots_of(self.question, self.rows)
        self.departures = [plan_of(self.question, self.rows, slot, self.journeys) for slot in slots]
        self.others[self.species, self.question.start_temperature_c, self.question.deliver_by] = self

    def for_fish(self, *, species, start_temperature_c, deliver_by=None):
        """The same departures for other fish; fish that is alike shares what is known."""
        if (fish := (species, start_temperature_c, deliver_by)) not in self.others:
            question = replace(
                self.question,
                species=species[0],
                start_temperature_c=start_temperature_c,
                deliver_by=deliver_by,
            )
            SafeFills(question, species, self.rows, self.journeys, others=self.others)
        return self.others[fish]

    def departure_at(self, timetable, departs_at):
        """The departure of a vehicle at an instant, or None where its timetable has no such hour any more."""
        wanted = vehicle_key(timetable, departs_at)
        return next((plan for plan in self.departures if plan.slot.vehicle == wanted), None)

    def is_safe(self, departure, design, mass_kg):
        key = (departure.same, design.pk)
        fills = self.known.get(key, Fills())
        if not fills.knows(mass_kg):
            fills = fills.with_one(mass_kg, is_safe=self._judged_safe(departure, design, mass_kg))
            self.known[key] = fills
        return mass_kg >= fills.safe_kg

    def safe_from(self, departure, design, masses_kg):
        """The least of these kilograms in one carton that is safe; NEVER if the most of them is not."""
        rising = sorted(set(masses_kg))
        if not rising or not self.is_safe(departure, design, rising[-1]):
            return NEVER
        first = bisect_left(rising, True, key=lambda mass: self.is_safe(departure, design, mass))
        return rising[first]

    def _judged_safe(self, departure, design, mass_kg):
        """Safe for every species in it, as the page of departures would say."""
        fits = capacity(carton_of(design))
        if not LEAST_SHARE * fits <= mass_kg <= fits:
            return False
        return all(self._is_hard(departure, design, mass_kg, species) for species in self.species)

    def softened_share(self, departure, design, mass_kg):
        """Share of the fish that is expected to soften in one carton, of the species that fares worst."""
        return max(self._outcome(departure, design, mass_kg, species)[1] for species in self.species)

    def _is_hard(self, departure, design, mass_kg, species):
        return self._outcome(departure, design, mass_kg, species)[0]

    def _outcome(self, departure, design, mass_kg, species):
        """Whether it is safe, and the share that is expected to soften; remembered between questions."""
        if fault_of_design(design, species):
            return False, 1.0
        key = "safe-fill:" + digest(self.about, species, design, mass_kg, departure.same)
        found = cache.get(key)
        if found is None:
            found = self._worked_out(departure, design, mass_kg, species)
            cache.set(key, found, timeout=settings.ANSWER_SECONDS)
        return found

    def _worked_out(self, departure, design, mass_kg, species):
        question, standard = replace(self.question, mass_kg=mass_kg, species=species), departure.slot.standard
        _, packed, _ = packing_of(question, design, standard)
        if standard.confidence > SURELY_HARD and softens_on_a_usual_trip(packed, departure):
            return False, 1.0
        judgement = self._judge(departure, packed, design, species)
        return judgement.reason is None, judgement.expected_softened_share

    def _judge(self, departure, packed, design, species):
        outing = departure.outing
        return judge(
            runs=self._runs(departure, packed, design, species),
            travel=outing.travel,
            draws=departure.draws,
            receiving=departure.receiving,
            wait=outing.wait,
            lead=outing.lead,
            confidence=departure.slot.standard.confidence,
        )

    def _runs(self, departure, packed, design, species):
        """Runs of the fish, which days with other receiving hours share."""
        key = (departure.same_run, design.pk, packed.load.mass, species.pk)
        if key not in self.known:
            self.known[key] = hold_tables(packed, departure.outing)
        return self.known[key]


def softens_on_a_usual_trip(packed, departure):
    """Whether it is soft on arrival in a usual wall, on a trip of median length that leaves on time.

    Then it is soft in a poorer wall on a slower trip, too: on one journey in four at least. One run tells
    that, where a judgement takes dozens.
    """
    outing = departure.outing
    median = outing.travel[FAR_TRAVEL]
    run = follow(
        packed,
        outing,
        [outing.wait],
        [outing.closing],
        travel=median,
        deviations=[0.0],
        stop_at=SOFT_ENOUGH,
        share=warmest_share(packed),
    )
    limit, level = limit_level(packed, run.curves)
    arrival = outing.wait + float(median[0])
    return bool(np.interp(arrival, run.curves.time, level[0], right=np.inf) > limit)


def safe_fills(question: Question, rows: Rows, species) -> SafeFills:
    """SafeFills for fish of these species over the days of a question; its mass and designs do not matter."""
    journeys = {row.pk: draws_of(question, rows, row) for row in rows.timetables}
    return SafeFills(question, tuple(species), rows, journeys)
