"""What the three ways of sending fish are asked about, reckoned from, and answered with."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from uuid import UUID
from zoneinfo import ZoneInfo

from coop.engines.costing import Softening, cost_per_sound_kilogram, sound_mass
from coop.engines.money import exact
from coop.models import Buyer, CartonDesign, Cooperative, Lot, Member, Route, Species
from coop.selectors.cost import Prices, prices_for
from coop.selectors.departure_slots import Question
from coop.selectors.departures import Departure
from coop.selectors.parcels import places_taken_between
from coop.selectors.terms import terms_on
from coop.selectors.waiting_costs import Store, WaitingCost, price_drop_of, store_of

ALONE, SHARE, WAIT = "alone", "share", "wait"
NO_PRICE = "no_price"


@dataclass(frozen=True)
class WaysQuestion:
    """Fish of one member, and departures of so many days from when it is ready; `lot` if it is offered."""

    cooperative: Cooperative
    route: Route
    buyer: Buyer
    species: Species
    designs: tuple[CartonDesign, ...]
    mass_kg: float
    start_temperature_c: float
    ready_at: datetime
    deliver_by: datetime | None
    days: int
    member: Member
    lot: Lot | None

    @property
    def zone(self):
        return ZoneInfo(self.cooperative.time_zone)

    @property
    def first_day(self):
        return self.ready_at.astimezone(self.zone).date()

    @property
    def last_day(self):
        return self.first_day + timedelta(days=self.days)

    @property
    def ends_at(self):
        """The midnight after the last day."""
        return datetime.combine(self.last_day + timedelta(days=1), datetime.min.time(), self.zone)

    def about(self, **changes):
        """Departures' Question about this fish, by itself unless something else is said."""
        values = {
            "cooperative": self.cooperative,
            "route": self.route,
            "buyer": self.buyer,
            "species": self.species,
            "designs": self.designs,
            "mass_kg": self.mass_kg,
            "start_temperature_c": self.start_temperature_c,
            "first_day": self.first_day,
            "last_day": self.last_day,
            "closes_at": None,
            "deliver_by": self.deliver_by,
        }
        return Question(**(values | changes))


@dataclass(frozen=True)
class Trip:
    """One departure that a way takes, and what the fish pays for it, expected loss and waiting included."""

    departure: Departure
    mass_kg: float
    members: int
    cost_minor: int
    cost_per_kg_minor: int | None
    waiting: WaitingCost
    parcel: UUID | None = None


@dataclass(frozen=True)
class Way:
    """One of the three; without a trip, the reason and the figures behind it.

    kg_missing fills the carton of the trip, and filled_per_kg_minor is what a kilogram then costs in it.
    """

    way: str
    trip: Trip | None = None
    reason: str | None = None
    values: dict | None = None
    kg_missing: float | None = None
    filled_per_kg_minor: int | None = None


@dataclass(frozen=True)
class Known:
    """What the three ways are reckoned from, read once."""

    question: WaysQuestion
    prices: Prices
    store: Store
    taken: dict

    def has_places(self, slot, cartons):
        used = self.taken.get(slot.vehicle, 0)
        return used + cartons <= slot.carrier.carton_places

    def waiting_cost(self, closes_at, day, *, mass_kg=None):
        """Of the fish from when it is ready until its carton is closed."""
        return self.store.waiting_cost(
            mass_kg=self.question.mass_kg if mass_kg is None else mass_kg,
            seconds=(closes_at - self.question.ready_at).total_seconds(),
            species=self.question.species,
            price_drop=price_drop_of(self.prices, day),
        )

    def softening(self, departure):
        """What this departure is expected to soften of the fish, with the prices of its day."""
        day = departure.slot.departs_at.date()
        price = next((row for row in self.prices.fish_prices if row.counts_on(day)), None)
        return Softening(
            share=exact("softened_share", round(departure.judgement.expected_softened_share, 4), most=1),
            hard_price=price and price.sold_minor_per_kg,
            soft_price=price and price.soft_minor_per_kg,
            priced_on=price and price.confirmed_on,
        )

    def trip(self, departure, paid_minor, *, mass_kg=None, members=1, parcel=None):
        """Trip of fish that pays so much for it, its own expected loss not counted yet."""
        mass = self.question.mass_kg if mass_kg is None else mass_kg
        waiting = self.waiting_cost(departure.closes_at, departure.slot.departs_at.date(), mass_kg=mass)
        softening = self.softening(departure)
        total = paid_minor + waiting.total_minor
        if softening.is_priced:
            total += softening.line(exact("mass_kg", mass)).amount_minor
        sound = sound_mass(mass, softening=softening)
        each = cost_per_sound_kilogram(total, sound_mass=sound) if sound else None
        return Trip(departure, mass, members, total, each, waiting, parcel)


def known_of(question: WaysQuestion) -> Known:
    taken = places_taken_between(question.cooperative, begins_at=question.ready_at, ends_at=question.ends_at)
    return Known(
        question=question,
        prices=prices_for(question.cooperative, question.route, question.buyer, question.species),
        store=store_of(
            question.cooperative,
            start_temperature_c=question.start_temperature_c,
            terms=terms_on(question.cooperative, question.first_day),
        ),
        taken=taken,
    )


def dearness(trip):
    """What the cheapest way is found by; of two that cost the same, the one that leaves first."""
    return trip.cost_minor, trip.departure.slot.departs_at
