"""Planned departures of one route, and everything stored that decides what they mean for a carton."""

import hashlib
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np

from coop.engines.departure import Draws, Receiving, standard_normal_quantile
from coop.engines.journey_time import Breakdown, draw_journey, draw_uniforms, journey_dimensions
from coop.engines.lognormal import Duration
from coop.engines.waiting import DELAY_DIMENSIONS, Filling, draw_delay
from coop.errors import invalid
from coop.models import (
    Buyer,
    BuyerLimit,
    Carrier,
    CartonDesign,
    Climate,
    Cooperative,
    Leg,
    Place,
    Species,
    Terms,
    Timetable,
)
from coop.selectors.engine_inputs import (
    HOUR,
    RIDES,
    WAITS,
    legs_of_journey,
    require_followable_weather,
    weather_of,
)
from coop.selectors.places import places, weather_between
from coop.selectors.standards import Standard, standard_among
from coop.selectors.terms import terms_of
from coop.selectors.thermal_runs import HORIZON, TRAVEL_SHARES
from coop.selectors.thermal_runs_way import Way, way_of
from coop.selectors.timetables import timetables_between, vehicle_key
from coop.selectors.trips import spread_of, trips_of

SEED = 19
"""Every journey is drawn with the same numbers, so that two departures differ by their figures alone."""
DAYS_BEFORE, DAYS_AFTER = 3, 5
RECEIVING_DAYS = 7
DAY = 24 * HOUR
WEATHER_KINDS = ("climate", "forecast", "observed")
"""From what is known least to what is known best: an answer rests on the least."""


@dataclass(frozen=True)
class Question:
    """What a person asks of the departures of one route.

    `designs` are versions: a departure takes those that count on its day. Without a limit or a confidence of
    its own, what counts on the day of each departure does.
    """

    cooperative: Cooperative
    route: object
    buyer: Buyer
    species: Species
    designs: tuple[CartonDesign, ...]
    mass_kg: float
    start_temperature_c: float
    first_day: object
    last_day: object
    closes_at: datetime | None
    deliver_by: datetime | None
    limit_kind: str | None = None
    limit_value: float | None = None
    confidence: float | None = None
    with_fish: bool = False

    @property
    def zone(self):
        return ZoneInfo(self.cooperative.time_zone)


@dataclass(frozen=True)
class Slot:
    """One planned departure of one carrier."""

    timetable: Timetable
    departs_at: datetime
    closes_at: datetime
    standard: Standard

    @property
    def carrier(self) -> Carrier:
        return self.timetable.carrier

    @property
    def day(self):
        """The day on which it is planned to leave, where the cooperative is."""
        return self.departs_at.date()

    @property
    def vehicle(self):
        """Key of the vehicle whose places are taken: a timetable that replaces another has the same."""
        return vehicle_key(self.timetable, self.departs_at)

    @property
    def wait(self):
        return (self.departs_at - self.closes_at).total_seconds()


@dataclass(frozen=True)
class Rows:
    """All that is stored about a question, read once."""

    legs: tuple[Leg, ...]
    places: tuple[Place, ...]
    climates: tuple[Climate, ...]
    day_weathers: tuple
    timetables: tuple[Timetable, ...]
    receiving_hours: tuple
    terms: tuple[Terms, ...]
    limits: tuple[BuyerLimit, ...]
    trips: tuple = ()


def rows_of(question):
    legs = tuple(question.route.legs.all())
    if not legs:
        raise invalid("route", question.route.slug, "it has no legs yet", "a route with at least one leg")
    wanted = {leg.start_id for leg in legs} | {leg.end_id for leg in legs}
    found = tuple(places().filter(pk__in=wanted))
    first, last = (
        question.first_day - timedelta(days=DAYS_BEFORE),
        question.last_day + timedelta(days=DAYS_AFTER),
    )
    if question.closes_at:
        first = min(first, question.closes_at.astimezone(question.zone).date())
    return Rows(
        legs=legs,
        places=found,
        climates=tuple(row for place in found for row in place.climates.all()),
        day_weathers=tuple(weather_between(question.cooperative, first, last).filter(place__in=wanted)),
        timetables=tuple(timetables_between(question.route, question.first_day, question.last_day)),
        receiving_hours=tuple(question.buyer.receiving_hours.all()),
        terms=tuple(terms_of(question.cooperative)),
        limits=tuple(question.buyer.limits.all()),
        trips=trips_of(question.cooperative, question.route),
    )


def slots_of(question, rows):
    """Departures in order. A carton is closed at the hour asked for if that is of use, else just in time."""
    days = (question.last_day - question.first_day).days + 1
    slots = []
    for day in (question.first_day + timedelta(days=n) for n in range(days)):
        leaving = [row for row in rows.timetables if day.weekday() in row.weekdays and row.counts_on(day)]
        standard = standard_among(question, rows.terms, rows.limits, day) if leaving else None
        slots += [_slot_of(question, timetable, day, standard) for timetable in leaving]
    return sorted(slots, key=lambda slot: (slot.departs_at, slot.timetable.pk))


def _slot_of(question, timetable, day, standard):
    departs_at = datetime.combine(day, timetable.departs_at_local, question.zone)
    just_in_time = departs_at - timedelta(seconds=standard.lead)
    slot = Slot(timetable, departs_at, question.closes_at or just_in_time, standard)
    return replace(slot, closes_at=just_in_time) if refusal_of(question, slot) else slot


def way_to_buyer(question, rows, carrier) -> Way:
    number = {place.pk: n for n, place in enumerate(rows.places)}
    legs = [
        (number[leg.start_id], number[leg.end_id], leg.hours_mean * HOUR, leg.stop_hours_mean * HOUR)
        for leg in rows.legs
    ]
    return way_of(
        legs,
        rides=RIDES[carrier.ride],
        waits=WAITS[carrier.waits_in],
        waits_at_buyer=WAITS[question.buyer.waits_in],
        last_stretch=question.buyer.last_stretch_hours_mean * HOUR,
        offset=carrier.cabin_offset_c,
    )


def draws_of(question, rows, timetable):
    """Possible journeys of one timetable, and the travel times to follow the fish along."""
    legs = legs_of_journey(rows.legs)
    columns = journey_dimensions(legs)
    uniforms = draw_uniforms(columns + DELAY_DIMENSIONS + 1, seed=SEED)
    carrier, buyer = timetable.carrier, question.buyer
    arguments = {
        "correlation": question.route.leg_correlation,
        "breakdown": Breakdown(
            carrier.breakdown_chance, carrier.breakdown_hours_mean * HOUR, carrier.breakdown_hours_cv
        ),
        "last_stretch": Duration(buyer.last_stretch_hours_mean * HOUR, buyer.last_stretch_hours_cv),
        "uniforms": uniforms[:, :columns],
    }
    spread = spread_of(rows.trips, carrier=carrier, legs=legs, journey=arguments)
    journey = draw_journey(legs=legs, spread=spread, **arguments)
    filling = (
        Filling(timetable.seats_left, timetable.riders_per_hour / HOUR)
        if timetable.leaves_when_full
        else None
    )
    delay = draw_delay(
        delay=Duration(timetable.delay_hours_mean * HOUR, timetable.delay_hours_cv),
        filling=filling,
        uniforms=uniforms[:, columns : columns + DELAY_DIMENSIONS],
    )
    deviation = standard_normal_quantile(uniforms[:, -1])
    return Draws(delay, journey.travel, deviation), np.quantile(journey.travel, TRAVEL_SHARES)


def weather_around(question, rows, slot):
    """Weather from some days before a departure, and the closing s since its first midnight."""
    base = min(
        slot.closes_at.astimezone(question.zone).date(), slot.departs_at.date() - timedelta(days=DAYS_BEFORE)
    )
    days = (slot.departs_at.date() - base).days + DAYS_AFTER
    weather = weather_of(
        rows.places,
        first_day=base,
        days=days,
        month=slot.departs_at.month,
        day_weathers=rows.day_weathers,
        zone=question.cooperative.time_zone,
    )
    require_followable_weather(
        "route",
        question.route.slug,
        coldest=weather.minimum.min(),
        hottest=weather.maximum.max(),
        offset=slot.carrier.cabin_offset_c,
    )
    start = datetime.combine(base, datetime.min.time(), question.zone)
    return weather, (slot.closes_at - start).total_seconds()


def weather_known(question, rows, begins_at, ends_at):
    """observed or forecast where somebody entered every day of a journey at every place, else climate."""
    first, last = (instant.astimezone(question.zone).date() for instant in (begins_at, ends_at))
    days = [first + timedelta(days=n) for n in range((last - first).days + 1)]
    entered = {(row.place_id, row.date): row.kind for row in rows.day_weathers}
    kinds = {entered.get((place.pk, day), "climate") for place in rows.places for day in days}
    return min(kinds, key=WEATHER_KINDS.index)


def receiving_of(question, rows, slot):
    """The buyer's receiving hours s since closing; without any, somebody is always there."""
    deadline = np.inf
    if question.deliver_by:
        deadline = (question.deliver_by - slot.closes_at).total_seconds()
    if not rows.receiving_hours:
        return Receiving(np.array([-DAY]), np.array([np.inf]), deadline)
    spans = []
    first = slot.closes_at.astimezone(question.zone).date()
    days = RECEIVING_DAYS + max(0, int(slot.wait // DAY))
    for day in (first + timedelta(days=n) for n in range(days)):
        for row in rows.receiving_hours:
            if row.weekday == day.weekday():
                ends = (
                    datetime.combine(day, clock, question.zone) for clock in (row.opens_at, row.closes_at)
                )
                spans.append(tuple((end - slot.closes_at).total_seconds() for end in ends))
    opens, closes = np.array(sorted(spans)).T
    return Receiving(np.ascontiguousarray(opens), np.ascontiguousarray(closes), deadline)


def refusal_of(question, slot):
    """Why a carton closed at the hour asked for cannot take a departure at all, or None."""
    if question.closes_at is None:
        return None
    wait = (slot.departs_at - question.closes_at).total_seconds()
    if wait < slot.standard.lead:
        return "misses_departure"
    return "closed_too_early" if wait > HORIZON else None


def digest(*parts):
    """Key of an answer: the same question over the same stored figures gives the same key."""
    content = hashlib.sha256()
    for part in parts:
        content.update(repr(_plain(part)).encode())
    return content.hexdigest()


def _plain(value):
    if hasattr(value, "_meta"):
        return tuple(value.__dict__.get(field.attname) for field in value._meta.concrete_fields)
    if hasattr(value, "__dataclass_fields__"):
        return tuple(_plain(getattr(value, name)) for name in value.__dataclass_fields__)
    if isinstance(value, (tuple, list)):
        return tuple(_plain(item) for item in value)
    return value
