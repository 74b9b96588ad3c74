"""Which waiting lot would travel in which carton on which departure, at the least cost: a proposal."""

from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from math import ceil, inf
from time import monotonic

from django.conf import settings

from coop.engines.consolidation import Lot as EngineLot
from coop.engines.consolidation import plan
from coop.engines.money import exact
from coop.models import Buyer, Cooperative, Parcel, Part, Plan, Route
from coop.selectors.buyers import buyers_of
from coop.selectors.cartons import carton_designs_of
from coop.selectors.cost import Prices, prices_for, rows_behind
from coop.selectors.departure_slots import Question, digest, rows_of, slots_of
from coop.selectors.lots import waiting_lots
from coop.selectors.parcel_judgement import Judged, ParcelJudge, fill_of
from coop.selectors.parcels import capacity_kg, places_taken_between
from coop.selectors.plans_offers import Way, fillings_of, offer_of
from coop.selectors.prices import fish_prices_of
from coop.selectors.routes import routes_of
from coop.selectors.safe_fills import safe_fills
from coop.selectors.separations import separations_of

SECONDS = 10.0
GAP = 0.01
MOST_ROUNDS = 4
"""Times that a plan is made anew because a carton of it was not safe as it was filled."""
MORE = 1.1
"""A carton that was not safe has to hold a tenth more the next time."""


def plans_of(cooperative):
    """Proposals, the newest first."""
    plans = Plan.objects.of(cooperative)
    return plans.select_related("route", "buyer", "asked_by", "accepted_by")


@dataclass(frozen=True)
class Packed:
    """One carton of a proposal: what lies in it, as unsaved parts, and how likely it arrives hard."""

    way: Way
    parts: tuple[Part, ...]
    judged: Judged

    @property
    def mass_kg(self):
        return round(sum(part.mass_kg for part in self.parts), 3)


@dataclass(frozen=True)
class Proposed:
    """Cartons that are safe as they are filled, and why each lot that stays behind does.

    slack_minor: how much less the best plan may cost, as the solver reckons costs. left_behind: lot, its kg
    that stay, code and values of the reason.
    """

    cartons: tuple[Packed, ...]
    left_behind: tuple[tuple, ...]
    slack_minor: int


class Planning:
    """All that a plan rests on, read once: lots that wait, departures with places, prices."""

    def __init__(
        self, cooperative: Cooperative, route: Route, buyer: Buyer, first_day, last_day, now: datetime
    ):
        # Read anew: what a plan rests on must not depend on who hands the row over.
        self.cooperative = cooperative = Cooperative.objects.get(pk=cooperative.pk)
        self.now = now
        self.route = routes_of(cooperative).get(pk=route.pk)
        self.buyer = buyers_of(cooperative).get(pk=buyer.pk)
        self.first_day, self.last_day = first_day, last_day
        self.lots = tuple(waiting_lots(cooperative, route, buyer))
        self.designs = tuple(carton_designs_of(cooperative))
        self.separations = tuple(separations_of(cooperative))
        self.prices: Prices = prices_for(cooperative, self.route, self.buyer, None)
        self.fish_prices = tuple(fish_prices_of(cooperative).on(first_day))

    @cached_property
    def question(self):
        return Question(
            cooperative=self.cooperative,
            route=self.route,
            buyer=self.buyer,
            species=self.lots[0].species,
            designs=(),
            mass_kg=0.0,
            start_temperature_c=max(lot.start_temperature_c for lot in self.lots),
            first_day=self.first_day,
            last_day=self.last_day,
            closes_at=None,
            deliver_by=None,
        )

    @cached_property
    def rows(self):
        return rows_of(self.question)

    @cached_property
    def fills(self):
        return safe_fills(self.question, self.rows, (self.lots[0].species,))

    @cached_property
    def ways(self):
        """Every design on every departure that can still be closed for, by the key of its offer."""
        later = [found for found in self.fills.departures if found.slot.closes_at >= self.now]
        ways = [
            Way(departure, design)
            for departure in later
            for design in self.designs
            if design.counts_on(departure.slot.day)
        ]
        return {way.key: way for way in ways}

    @cached_property
    def places(self):
        """Cartons that still find place on each departure of the days, over or not."""
        slots = slots_of(self.question, self.rows)
        if not slots:
            return {}
        taken = places_taken_between(
            self.cooperative, begins_at=slots[0].departs_at, ends_at=slots[-1].departs_at
        )
        found = {slot.vehicle: slot.carrier.carton_places for slot in slots}
        return {key: max(0, places - taken.get(key, 0)) for key, places in found.items()}

    @property
    def rests_on(self):
        """Key of lots, places, prices and everything that decides about the fish, as it is now."""
        lots = [(lot, lot.left_kg) for lot in self.lots]
        if not lots:
            return digest((self.route, self.buyer))
        priced = (self.prices, rows_behind(self.prices, self.designs), self.designs, self.fish_prices)
        places = sorted((str(key), count) for key, count in self.places.items())
        return digest(lots, places, self.separations, self.rows, self.question, *priced)

    def kinds(self):
        """For each lot the SafeFills of fish like it, its temperature rounded up to a whole degree."""
        return [
            self.fills.for_fish(
                species=(lot.species,), start_temperature_c=float(ceil(lot.start_temperature_c))
            )
            for lot in self.lots
        ]

    @property
    def fish_drop(self):
        """Minor units that a kilogram loses by softening, of the fish that loses most; 0 without a price."""
        offered = {lot.species_id for lot in self.lots}
        drops = [
            price.sold_minor_per_kg - price.soft_minor_per_kg
            for price in self.fish_prices
            if price.species_id in offered
        ]
        return max(drops, default=0)

    def engine_lots(self):
        return [
            EngineLot(
                key=str(lot.uuid),
                mass=exact("mass", round(lot.left_kg, 3)),
                kind=lot.species.code,
                ready_at=lot.ready_at.timestamp(),
                deadline=lot.deliver_by.timestamp() if lot.deliver_by else inf,
                may_split=lot.may_be_split,
            )
            for lot in self.lots
        ]


def propose(planning: Planning) -> Proposed:
    """Plans, judges each carton with what it would hold, and plans anew where one was not safe."""
    if not planning.lots:
        return Proposed((), (), 0)
    least, lots, kinds = {}, planning.engine_lots(), planning.kinds()
    judge_ahead(planning, kinds)
    for _ in range(MOST_ROUNDS):
        found, cartons = _planned(planning, lots, kinds, least)
        unsafe = [carton for carton in cartons if not carton.judged.is_safe]
        if not unsafe:
            break
        for carton in unsafe:
            least[carton.way.key] = max(least.get(carton.way.key, 0.0), _more_than(carton))
    safe = tuple(carton for carton in cartons if carton.judged.is_safe)
    return Proposed(safe, _left_behind(planning, found, safe), int(found.cost - found.bound))


def judge_ahead(planning, kinds):
    """Judges what the offers will ask for, on all cores; ways that meet the same weather share their runs."""
    alike = {}
    for way in planning.ways.values():
        for fills in {id(fills): fills for fills in kinds}.values():
            alike.setdefault((way.departure.same_run, way.design.pk, id(fills)), []).append((fills, way))
    lots_kg = [lot.left_kg for lot in planning.lots]

    def judge_one(asked):
        for fills, way in asked:
            fills.safe_from(way.departure, way.design, fillings_of(way.design, lots_kg))

    with ThreadPoolExecutor(settings.CORES) as pool:
        list(pool.map(judge_one, alike.values()))


def _more_than(carton):
    """What a carton of this offer has to hold the next time: more, and where it was full there is no more."""
    fits = capacity_kg(carton.way.design)
    return min(carton.mass_kg * MORE, fits) if carton.mass_kg < fits else inf


def _planned(planning, lots, kinds, least):
    offers = [
        offer_of(
            way,
            planning.prices,
            planning.fish_drop,
            kinds,
            lots_kg=[lot.left_kg for lot in planning.lots],
            least_kg=least.get(way.key, 0.0),
        )
        for way in planning.ways.values()
    ]
    found = plan(
        lots,
        [offer for offer in offers if offer],
        places=planning.places,
        may_not_share={(row.one.code, row.other.code) for row in planning.separations},
        time_limit=SECONDS,
        gap=GAP,
        clock=monotonic,
    )
    by_key = {str(lot.uuid): lot for lot in planning.lots}
    cartons = []
    for offer_key, contents in found.cartons:
        way = planning.ways[offer_key]
        parts = tuple(Part(lot=by_key[key], mass_kg=round(float(mass), 3)) for key, mass in contents)
        cartons.append(Packed(way, parts, judged_in(planning, way, parts)))
    return found, cartons


def judged_in(planning, way, parts) -> Judged:
    """The judgement of one carton as it would be closed, with its own kilograms and its warmest fish."""
    slot = way.departure.slot
    parcel = Parcel(
        cooperative=planning.cooperative,
        route=planning.route,
        buyer=planning.buyer,
        timetable=slot.timetable,
        design=way.design,
        departs_at=slot.departs_at,
        closes_at=slot.closes_at,
    )
    return ParcelJudge([parcel]).judged(parcel, fill_of(parts))


def _left_behind(planning, found, cartons):
    """Lots that stay, with the solver's reason; what was left out of unsafe cartons says so."""
    placed = {}
    for part in (part for carton in cartons for part in carton.parts):
        placed[part.lot.uuid] = placed.get(part.lot.uuid, 0.0) + part.mass_kg
    rows = []
    for lot in planning.lots:
        stays = round(lot.left_kg - placed.get(lot.uuid, 0.0), 3)
        if stays > 0:
            reason = found.left_behind.get(str(lot.uuid))
            code, values = (reason.code, dict(reason.values)) if reason else ("not_safe_together", {})
            rows.append((lot, stays, code, values))
    return tuple(rows)
