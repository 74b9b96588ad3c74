"""Whether a carton of a parcel arrives hard: judged with its own kilograms and the worst that is in it."""

from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from functools import cache as remembered
from zoneinfo import ZoneInfo

from django.conf import settings
from django.core.cache import cache

from coop.errors import Invalid, Problem, invalid
from coop.models import Species
from coop.selectors.departure_slots import (
    DAYS_AFTER,
    DAYS_BEFORE,
    Question,
    Rows,
    digest,
    draws_of,
    refusal_of,
    slots_of,
)
from coop.selectors.departures import Departure, judgement_of, packing_of, plan_of, refused
from coop.selectors.packing import mass_fault
from coop.selectors.places import places, weather_between
from coop.selectors.species import softens_at
from coop.selectors.terms import terms_among, terms_of
from coop.selectors.thermal_runs import hold_tables
from coop.selectors.timetables import timetables_of
from coop.selectors.trips import trips_of
from coop.selectors.usable_cartons import fault_of_design

WORDS = {
    "hold_too_short": "may not hold until the buyer's freezer",
    "arrives_after_deadline": "may arrive after the hour by which the fish is wanted",
    "closed_too_early": "would stand closed for too long before it leaves",
    "buyer_closed": "may come while the buyer is shut, and not hold until he opens",
    "start_too_warm": "holds fish that is too warm to travel",
    "may_leave_late": "often leaves later than is safe",
    "misses_departure": "is closed too late for this departure",
    "departure_gone": "is for a departure that is in no timetable any more",
    "cannot_be_judged": "cannot be judged",
}
"""What a reason says of a carton, in short; the interface adds the figures."""
MOST_DAYS_CLOSED = 4
"""Nobody leaves a closed carton standing for longer; no run is longer either."""


@dataclass(frozen=True)
class Fill:
    """What a carton holds, as far as it decides about the fish."""

    mass_kg: float
    species: tuple[Species, ...]
    start_temperature_c: float
    deliver_by: datetime | None


@dataclass(frozen=True)
class Judged:
    """What is said of one filling; `departure` and `question` are of its worst species, where any ran."""

    fill: Fill
    reason: str | None
    chance_hard: float
    latest_safe_departure_at: datetime | None
    departure: Departure | None = None
    question: Question | None = None
    problem: Problem | None = None

    @property
    def is_safe(self):
        return self.reason is None

    @property
    def words(self):
        return self.problem.problem if self.problem else WORDS[self.reason]


def fill_of(parts, *, measured_c=None):
    """Fill of parts of lots: the warmest fish counts, and what was measured where that is warmer still."""
    lots = [part.lot for part in parts]
    temperatures = [lot.start_temperature_c for lot in lots] + ([] if measured_c is None else [measured_c])
    return Fill(
        mass_kg=round(sum(part.mass_kg for part in parts), 3),
        species=tuple({lot.species_id: lot.species for lot in lots}.values()),
        start_temperature_c=max(temperatures),
        deliver_by=min((lot.deliver_by for lot in lots if lot.deliver_by), default=None),
    )


class ParcelJudge:
    """Judges fillings of cartons of some parcels, of parcels_of; what is stored is read once for all."""

    def __init__(self, parcels):
        self.parcels = tuple(parcels)
        self.places = tuple(places()) if self.parcels else ()
        self.terms = tuple(terms_of(self.parcels[0].cooperative)) if self.parcels else ()
        self.timetables = self._timetables()
        self.day_weathers = self._day_weathers()
        self.trips_on = remembered(lambda route: trips_of(self.parcels[0].cooperative, route))

    def judged(self, parcel, fill: Fill, *, closes_at=None) -> Judged:
        """Closed as late as planned, or at an earlier hour; the species that fares worst is what counts."""
        found = [self._one(parcel, fill, species, closes_at) for species in fill.species]
        worst = min(found, key=lambda one: (one.is_safe, one.chance_hard))
        latest = [one.latest_safe_departure_at for one in found]
        return replace(worst, latest_safe_departure_at=None if None in latest else min(latest))

    def _one(self, parcel, fill, species, closes_at):
        try:
            return self._judged(parcel, fill, species, closes_at)
        except Invalid as failure:
            problem = failure.problems[0] if failure.problems else None
            return unsafe(fill, "cannot_be_judged", problem)

    def _judged(self, parcel, fill, species, closes_at):
        fault = fault_of_design(parcel.design, species) or mass_fault(parcel.design, fill.mass_kg, places=1)
        if fault:
            return unsafe(fill, "cannot_be_judged", fault)
        if fill.start_temperature_c >= softens_at(species):
            return unsafe(fill, "start_too_warm")
        question, rows = self._question(parcel, fill, species, closes_at), self._rows(parcel)
        slot = next((one for one in slots_of(question, rows) if one.departs_at == parcel.departs_at), None)
        if slot is None:
            return unsafe(fill, "departure_gone")
        return self._followed(question, rows, slot, fill)

    def _followed(self, question, rows, slot, fill):
        key = "carton:" + digest(question, rows)
        departure = cache.get(key)
        if departure is None:
            departure = self._departure(question, rows, slot)
            cache.set(key, departure, timeout=settings.ANSWER_SECONDS)
        return Judged(
            fill=fill,
            reason=departure.judgement.reason,
            chance_hard=departure.judgement.chance_hard,
            latest_safe_departure_at=departure.latest_safe_departure,
            departure=departure,
            question=question,
        )

    def _departure(self, question, rows, slot):
        [design] = question.designs
        _, packed, cartons = packing_of(question, design, slot.standard)
        journeys = {slot.timetable.pk: draws_of(question, rows, slot.timetable)}
        plan = plan_of(question, rows, slot, journeys)
        judgement = judgement_of(plan, hold_tables(packed, plan.outing))
        judgement = refused(judgement, refusal_of(question, slot))
        closes_at = question.closes_at or slot.closes_at
        return Departure(slot, design, cartons, closes_at, judgement, None, plan.weather, plan.trips)

    def _question(self, parcel, fill, species, closes_at):
        """The question of the page of departures that this carton answers; just in time is not said."""
        day = local_day(parcel)
        lead = terms_among(self.terms, day).closing_lead_minutes
        just_in_time = parcel.departs_at - timedelta(minutes=lead)
        return Question(
            cooperative=parcel.cooperative,
            route=parcel.route,
            buyer=parcel.buyer,
            species=species,
            designs=(parcel.design,),
            mass_kg=fill.mass_kg,
            start_temperature_c=fill.start_temperature_c,
            first_day=day,
            last_day=day,
            closes_at=closes_at if closes_at and closes_at < just_in_time else None,
            deliver_by=fill.deliver_by,
        )

    def _rows(self, parcel):
        legs = tuple(parcel.route.legs.all())
        if not legs:
            raise invalid("route", parcel.route.slug, "it has no legs yet", "a route with at least one leg")
        wanted = {leg.start_id for leg in legs} | {leg.end_id for leg in legs}
        found = tuple(place for place in self.places if place.pk in wanted)
        first, last = days_around(parcel)
        return Rows(
            legs=legs,
            places=found,
            climates=tuple(row for place in found for row in place.climates.all()),
            day_weathers=tuple(
                row for row in self.day_weathers if row.place_id in wanted and first <= row.date <= last
            ),
            timetables=tuple(row for row in self.timetables if row.leaves_like(parcel.timetable)),
            receiving_hours=tuple(parcel.buyer.receiving_hours.all()),
            terms=self.terms,
            limits=tuple(parcel.buyer.limits.all()),
            trips=self.trips_on(parcel.route),
        )

    def _timetables(self):
        """Those of the parcels, and those by which they were replaced since."""
        if not self.parcels:
            return ()
        routes = {parcel.route_id for parcel in self.parcels}
        return tuple(timetables_of(self.parcels[0].cooperative).filter(route__in=routes))

    def _day_weathers(self):
        if not self.parcels:
            return ()
        spans = [days_around(parcel) for parcel in self.parcels]
        first, last = min(first for first, _ in spans), max(last for _, last in spans)
        return tuple(weather_between(self.parcels[0].cooperative, first, last))


def unsafe(fill, reason, problem=None):
    return Judged(fill, reason, 0.0, None, problem=problem)


def local_day(parcel):
    """The day on which it leaves, where the cooperative is."""
    return parcel.departs_at.astimezone(ZoneInfo(parcel.cooperative.time_zone)).date()


def days_around(parcel):
    """Days whose weather a carton of this parcel can meet; one that closes early meets more of them."""
    day = local_day(parcel)
    return day - timedelta(days=DAYS_BEFORE + MOST_DAYS_CLOSED), day + timedelta(days=DAYS_AFTER)


def judged_cartons(parcels):
    """Judged of every open carton with fish of some parcels, by the carton's key; closed ones keep theirs."""
    judge_of = ParcelJudge(parcels)
    found = {}
    for parcel in judge_of.parcels:
        for carton in parcel.cartons.all():
            parts = carton.parts.all()
            if parts and carton.closed_at is None:
                found[carton.pk] = judge_of.judged(parcel, fill_of(parts))
    return found
