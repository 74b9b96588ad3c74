"""Departures of one route as a person asks for them: how likely hard, until what hour, at what cost."""

import math
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from functools import cache as remembered
from itertools import product

from django.conf import settings
from django.core.cache import cache

from coop.engines.carton import capacity
from coop.engines.carton_choice import fewest_cartons
from coop.engines.departure import Draws, Receiving
from coop.errors import NotFound
from coop.selectors.cost import Bill, bill_of, prices_for, rows_behind
from coop.selectors.departure_judgement import Judgement, judge
from coop.selectors.departure_slots import (
    Question,
    Slot,
    digest,
    draws_of,
    receiving_of,
    refusal_of,
    rows_of,
    slots_of,
    way_to_buyer,
    weather_around,
    weather_known,
)
from coop.selectors.engine_inputs import carton_of, flesh_of, legs_of_journey, lognormal_sigma
from coop.selectors.packing import pack
from coop.selectors.thermal_runs import Outing, Packed, hold_tables
from coop.selectors.trips import roads_of

SAFE_MINUTES = 5
"""Hours that decide about the fish are rounded to five minutes, always to the safe side."""


@dataclass(frozen=True)
class Departure:
    """One planned departure with one carton design."""

    slot: Slot
    design: object
    cartons: int
    closes_at: datetime
    judgement: Judgement
    bill: Bill
    weather: str
    trips: int
    """Logged trips that the hours of the journey rest on."""

    @property
    def key(self):
        """Timetable, day and design: the same departure keeps its name from one question to the next."""
        return f"{self.slot.timetable.pk}-{self.slot.departs_at:%Y%m%d}-{self.design.slug}"

    @property
    def is_safe(self):
        return self.judgement.reason is None

    def after_closing(self, seconds):
        """An instant so many seconds after closing, or None where there is none."""
        return self.slot.closes_at + timedelta(seconds=seconds) if math.isfinite(seconds) else None

    @property
    def latest_safe_departure(self):
        latest = self.after_closing(self.judgement.latest_departure)
        return latest and rounded(latest, up=False)

    @property
    def close_no_earlier_than(self):
        before = self.judgement.closed_before_departure
        if not math.isfinite(before):
            return None
        return rounded(self.slot.departs_at - timedelta(seconds=before), up=True)


def rounded(instant, *, up):
    """An instant to five minutes, later or earlier."""
    step = timedelta(minutes=SAFE_MINUTES)
    over = (instant - datetime.min.replace(tzinfo=instant.tzinfo)) % step
    if not over:
        return instant
    return instant - over + step if up else instant - over


def departures_for(question: Question):
    """Every departure of the days asked for, with every carton design, in order of departure."""
    rows = rows_of(question)
    prices = prices_for(question.cooperative, question.route, question.buyer, question.species)
    key = "departures:" + digest(question, rows, prices, rows_behind(prices, question.designs))
    found = cache.get(key)
    if found is None:
        found = work_out(question, rows, prices)
        cache.set(key, found, timeout=settings.ANSWER_SECONDS)
    return found


def departure_named(question: Question, name):
    """One departure by its key; the question's days and designs are narrowed to it."""
    timetable, _, rest = name.partition("-")
    day, _, slug = rest.partition("-")
    try:
        date = datetime.strptime(day, "%Y%m%d").date()
    except ValueError:
        raise NotFound(f"no departure is called {name}") from None
    designs = tuple(design for design in question.designs if design.slug == slug)
    narrowed = replace(question, first_day=date, last_day=date, designs=designs)
    for departure in departures_for(narrowed) if designs else ():
        if str(departure.slot.timetable.pk) == timetable:
            return narrowed, departure
    raise NotFound(f"no departure is called {name}")


def work_out(question, rows, prices):
    """The answer without a memory. Departures that differ in nothing that matters share one judgement.

    A departure takes the designs that count on its day. One that would need more cartons than its vehicle has
    places for is left out.
    """
    journeys = {row.pk: draws_of(question, rows, row) for row in rows.timetables}
    plans = [plan_of(question, rows, slot, journeys) for slot in slots_of(question, rows)]
    pack_once = remembered(lambda design, standard: packing_of(question, design, standard))
    wanted = [
        (plan, packing)
        for plan, design in product(plans, question.designs)
        if design.counts_on(plan.slot.day)
        if (packing := pack_once(design, plan.slot.standard))[-1] <= plan.slot.carrier.carton_places
    ]
    jobs = {}
    with ThreadPoolExecutor(settings.CORES) as pool:
        runs = {}
        for plan, (design, packed, _) in wanted:
            if (same := (plan.same_run, design.pk)) not in runs:
                runs[same] = pool.submit(hold_tables, packed, plan.outing)
        for plan, (design, _, _) in wanted:
            if (same := (plan.same, design.pk)) not in jobs:
                run = runs[plan.same_run, design.pk]
                jobs[same] = pool.submit(judged_after, run, plan)
        judgements = {same: job.result() for same, job in jobs.items()}
    bills = {}
    return [
        departure_of(question, prices, plan, design, cartons, judgements[plan.same, design.pk], bills)
        for plan, (design, _, cartons) in wanted
    ]


def departure_of(question, prices, plan, design, cartons, judgement, bills):
    slot = plan.slot
    same_bill = (plan.same, design.pk, slot.departs_at.date())
    if same_bill not in bills:
        bills[same_bill] = bill_for(question, prices, slot, design, cartons, judgement)
    closes_at = question.closes_at or slot.closes_at
    judgement = refused(judgement, refusal_of(question, slot))
    return Departure(slot, design, cartons, closes_at, judgement, bills[same_bill], plan.weather, plan.trips)


@dataclass(frozen=True)
class Plan:
    """A slot as the engines see it; slots with the same keys have the same runs, or the same judgement."""

    slot: Slot
    outing: Outing
    draws: Draws
    receiving: Receiving
    weather: str
    trips: int
    same_run: tuple
    same: tuple


def plan_of(question, rows, slot, journeys):
    draws, travel = journeys[slot.timetable.pk]
    outing, same_run = outing_of(question, rows, slot, travel)
    receiving = receiving_of(question, rows, slot)
    hours = (receiving.opens.tobytes(), receiving.closes.tobytes(), receiving.deadline)
    arrives_at = slot.departs_at + timedelta(seconds=float(travel[len(travel) // 2]))
    weather = weather_known(question, rows, slot.closes_at, arrives_at)
    trips = len(roads_of(rows.trips, carrier=slot.carrier, legs=legs_of_journey(rows.legs)))
    return Plan(slot, outing, draws, receiving, weather, trips, same_run, (same_run, *hours))


def refused(judgement, reason):
    """The judgement of a carton that cannot take the departure at the hour asked for, whatever its walls."""
    if reason is None:
        return judgement
    never = -math.inf
    return replace(
        judgement, chance_hard=0.0, margin=never, latest_departure=never, reason=reason, chances=()
    )


def packing_of(question, design, standard):
    """Design, the carton as it is closed, and how many of them the fish takes."""
    carton = carton_of(design)
    cartons = fewest_cartons(question.mass_kg, capacity=capacity(carton))
    packed = Packed(
        carton=carton,
        load=pack(design, question.mass_kg / cartons),
        flesh=flesh_of(question.species),
        start_temperature=question.start_temperature_c,
        sigma=lognormal_sigma(design.insulation_conductivity_cv),
        limit_kind=standard.limit_kind,
        limit_value=standard.limit_value,
    )
    return design, packed, cartons


def outing_of(question, rows, slot, travel):
    """Outing of a slot, and a key that is the same for slots whose cartons meet the same."""
    weather, closing = weather_around(question, rows, slot)
    outing = Outing(
        weather=weather,
        way=way_to_buyer(question, rows, slot.carrier),
        closing=closing,
        wait=slot.wait,
        lead=slot.standard.lead,
        travel=travel,
    )
    seen = (weather.maximum.tobytes(), weather.minimum.tobytes(), weather.cloud_share.tobytes())
    return outing, (slot.timetable.pk, slot.standard, closing, slot.wait, seen, weather.day_of_year.tobytes())


def judged_after(run, plan):
    return judgement_of(plan, run.result())


def judgement_of(plan, tables):
    """Judgement of a plan by the hold tables of its carton."""
    return judge(
        runs=tables,
        travel=plan.outing.travel,
        draws=plan.draws,
        receiving=plan.receiving,
        wait=plan.outing.wait,
        lead=plan.outing.lead,
        confidence=plan.slot.standard.confidence,
    )


def bill_for(question, prices, slot, design, cartons, judgement):
    return bill_of(
        prices,
        carrier=slot.carrier,
        design=design,
        mass_kg=question.mass_kg,
        cartons=cartons,
        day=slot.departs_at.date(),
        softened_share=round(judgement.expected_softened_share, 4),
        with_fish=question.with_fish,
    )
