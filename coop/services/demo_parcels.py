"""What the invented cooperative has on the road around the day of loading, written by the services of people.

Names are those of the fixtures; lots, hours, payments and losses are invented.
"""

from datetime import datetime, timedelta
from typing import NamedTuple
from zoneinfo import ZoneInfo

from coop.models import Buyer, CartonDesign, Member, Parcel, Role, Species, Timetable
from coop.selectors.packing import gross_kg, pack
from coop.services.calling_off import call_off_parcel
from coop.services.claims import raise_claim, share_claim
from coop.services.closing import close_carton, record_departure, record_hand_over
from coop.services.corrections import correct_bill
from coop.services.lots import offer_lot
from coop.services.parcels import join_parcel, open_parcel
from coop.services.payments import record_payment
from coop.services.settling import settle_parcel

DAYS_SEARCHED = 21
LATE = timedelta(minutes=25)
WATCH = timedelta(hours=3)
"""What is open for others to join closes this far ahead at least."""


class Fish(NamedTuple):
    """One lot: whose, which species, kg, °C."""

    member: str
    species: str
    mass_kg: float
    start_temperature_c: float = -18.0
    may_be_split: bool = False


class Trip(NamedTuple):
    """A parcel on a timetable of its route; `back` counts its departures, 1 is the last one, −1 the next."""

    route: str
    buyer: str
    hour: int
    design: str
    back: int
    lots: tuple[Fish, ...]


LUSAKA = ("mpulungu-lusaka", "lusaka-wholesaler", 16)
KASAMA = ("mpulungu-kasama", "kasama-shop", 16)
MPIKA = ("mpulungu-mpika", "mpika-guesthouse", 16)
SETTLED = Trip(
    *LUSAKA,
    "insulated-box",
    7,
    (Fish("Chanda", "IRQ", 42), Fish("Esther", "IRQ", 28), Fish("Mary", "IRQ", 18)),
)
HANDED_OVER = Trip(*MPIKA, "common-carton", 4, (Fish("Joseph", "CLZ", 48.5), Fish("Chanda", "IRQ", 32)))
DEPARTED = Trip(*LUSAKA, "insulated-box", 2, (Fish("Joseph", "IRQ", 42), Fish("Esther", "IRQ", 28)))
CLOSED = Trip(*KASAMA, "insulated-box", 1, (Fish("Mary", "IRQ", 40), Fish("Chanda", "LTM", 30.5)))
CALLED_OFF = Trip(*MPIKA, "insulated-box", 2, (Fish("Mary", "IRQ", 38), Fish("Joseph", "LTM", 26)))
OPEN = (
    Trip(*MPIKA, "common-carton", -1, (Fish("Esther", "IRQ", 41), Fish("Mary", "LTM", 22))),
    Trip(*LUSAKA, "insulated-box", -2, (Fish("Joseph", "IRQ", 60, -19.0), Fish("Chanda", "SIA", 15.5))),
)
WAITING = (
    (LUSAKA, Fish("Chanda", "IRQ", 36)),
    (LUSAKA, Fish("Esther", "IRQ", 24, may_be_split=True)),
    (LUSAKA, Fish("Mary", "TLP", 12.5)),
    (MPIKA, Fish("Joseph", "IRQ", 17)),
    (KASAMA, Fish("Esther", "LTM", 20, -20.0)),
)


class Landing:
    """The cooperative at one moment, and who does things for it."""

    def __init__(self, cooperative, now):
        self.cooperative, self.now = cooperative, now
        self.zone = ZoneInfo(cooperative.time_zone)
        self.members = {row.name.split()[0]: row for row in Member.objects.of(cooperative)}
        self.packer = next(row for row in self.members.values() if row.role == Role.PACKER)

    def timetable(self, trip):
        hours = Timetable.objects.of(self.cooperative).select_related("carrier", "route__destination")
        return hours.get(route__slug=trip.route, departs_at_local__hour=trip.hour, leaves_when_full=False)

    def buyer(self, slug):
        return Buyer.objects.of(self.cooperative).get(slug=slug)

    def departures(self, timetable):
        """Instants of departure around now, those that are over first."""
        today = self.now.astimezone(self.zone).date()
        days = (today + timedelta(days=n) for n in range(-DAYS_SEARCHED, DAYS_SEARCHED))
        return [
            datetime.combine(day, timetable.departs_at_local, self.zone)
            for day in days
            if day.weekday() in timetable.weekdays and timetable.counts_on(day)
        ]

    def departs_at(self, trip):
        found = self.departures(self.timetable(trip))
        if trip.back > 0:
            return [instant for instant in found if instant + LATE <= self.now][-trip.back]
        return [instant for instant in found if instant >= self.now + WATCH][-trip.back - 1]

    def offer(self, fish, way, *, ready_at, now):
        timetable = self.timetable(Trip(*way, "", 1, ()))
        return offer_lot(
            by=self.members[fish.member],
            route=timetable.route,
            buyer=self.buyer(way[1]),
            species=Species.objects.get(code=fish.species),
            mass_kg=fish.mass_kg,
            frozen_since=ready_at - timedelta(days=2),
            ready_at=ready_at,
            start_temperature_c=fish.start_temperature_c,
            may_be_split=fish.may_be_split,
            now=now,
        )

    def filled(self, trip) -> Parcel:
        """A parcel opened the day before it leaves, or now, with its lots in its one carton."""
        departs_at, timetable = self.departs_at(trip), self.timetable(trip)
        now = min(self.now, departs_at - timedelta(days=1))
        parcel = open_parcel(
            by=self.packer,
            timetable=timetable,
            date=departs_at.date(),
            design=CartonDesign.objects.of(self.cooperative).on(departs_at.date()).get(slug=trip.design),
            buyer=self.buyer(trip.buyer),
            now=now,
        )
        for fish in trip.lots:
            lot = self.offer(fish, trip[:3], ready_at=now - timedelta(hours=30), now=now)
            join_parcel(by=self.packer, parcel=parcel, lot=lot, now=now)
        return parcel

    def closed(self, trip) -> Parcel:
        parcel = self.filled(trip)
        [carton] = parcel.cartons.all()
        mass = sum(fish.mass_kg for fish in trip.lots)
        weighed = round(gross_kg(parcel.design, pack(parcel.design, mass)) + 0.4, 1)
        terms = {"closed_at": parcel.closes_at, "now": parcel.closes_at, "gross_mass_kg": weighed}
        return close_carton(by=self.packer, carton=carton, **terms)

    def departed(self, parcel, driver) -> Parcel:
        left_at = parcel.departs_at + LATE
        terms = {"driver": driver, "plate": "ABX 0000", "departed_at": left_at, "now": left_at}
        return record_departure(by=self.packer, parcel=parcel, **terms)

    def handed_over(self, parcel, hours, **facts) -> Parcel:
        arrived_at = parcel.departed_at + timedelta(hours=hours)
        handed_over_at = arrived_at + timedelta(minutes=50)
        return record_hand_over(
            by=self.packer,
            parcel=parcel,
            arrived_at=arrived_at,
            handed_over_at=handed_over_at,
            now=handed_over_at,
            received_by="at the door (invented)",
            **facts,
        )


def fill_demo(cooperative, now) -> int:
    """Parcels in every state, lots that wait, payments and claims; the number of lots and parcels.

    What is closed is closed before anything is handed over: a logged trip changes what later judgements rest
    on, and until then they are remembered from one to the next.
    """
    landing = Landing(cooperative, now)
    settled, handed_over, departed, closed, called_off = (
        landing.closed(trip) for trip in (SETTLED, HANDED_OVER, DEPARTED, CLOSED, CALLED_OFF)
    )
    opened = [landing.filled(trip) for trip in OPEN]
    for way, fish in WAITING:
        landing.offer(fish, way, ready_at=now - timedelta(hours=8), now=now)
    departed = landing.departed(departed, "Mr Sikasula (invented)")
    handed_over = landing.handed_over(
        landing.departed(handed_over, "Mr Sikasula (invented)"), 11.5, is_hard=False, soft_kg=6.5
    )
    settled = landing.handed_over(landing.departed(settled, "Mr Sikasula (invented)"), 19.5, is_hard=True)
    _settle(landing, settled)
    _claim(landing, handed_over)
    _call_off(landing, called_off)
    return len(WAITING) + len((settled, handed_over, departed, closed, called_off, *opened))


def _settle(landing, parcel):
    """The buyer paid less than was due, so that his payment is shared; a little of the rest was got back."""
    at = parcel.handed_over_at + timedelta(hours=4)
    settle_parcel(by=landing.packer, parcel=parcel, received_minor=402_000, at=at)
    chanda, esther, mary = (landing.members[name] for name in ("Chanda", "Esther", "Mary"))
    claim = raise_claim(
        by=landing.packer,
        parcel=parcel,
        kind="short_payment",
        parts=[(chanda, 25_000), (esther, 12_000), (mary, 10_000)],
        note="The wholesaler weighed less than was sent.",
        at=at + timedelta(hours=1),
    )
    share_claim(by=landing.packer, claim=claim, estate_minor=24_000, at=at + timedelta(hours=30))
    for member, amount, direction in ((chanda, 120_000, "out"), (mary, 5_000, "in"), (esther, 60_000, "out")):
        record_payment(
            by=landing.packer,
            member=member,
            amount_minor=amount,
            direction=direction,
            paid_on=(at + timedelta(hours=30)).astimezone(landing.zone).date(),
            at=at + timedelta(hours=30),
        )


def _claim(landing, parcel):
    joseph = landing.members["Joseph"]
    raise_claim(
        by=joseph,
        parcel=parcel,
        kind="softened",
        parts=[(joseph, 14_000)],
        note="The upper layer had softened.",
        at=parcel.handed_over_at + timedelta(hours=2),
    )


def _call_off(landing, parcel):
    """The minibus did not come; the shavings were spent all the same."""
    at = parcel.departs_at + LATE
    call_off_parcel(by=landing.packer, parcel=parcel, note="The minibus did not come.", now=at)
    correct_bill(
        by=landing.packer, parcel=parcel, amount_minor=2_400, note="shavings, used all the same", at=at
    )
