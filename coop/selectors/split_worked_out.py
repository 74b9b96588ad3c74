"""The split of a parcel worked out from what lies in its cartons; remembered until that changes."""

from dataclasses import dataclass, field

from django.conf import settings
from django.core.cache import cache

from coop.models import Lot, Member
from coop.models.parcels import rounded_kg
from coop.selectors.cartons import carton_designs_of
from coop.selectors.coalition_costs import CoalitionCosts, cheapest_alone, days_around
from coop.selectors.cost import Bill, rows_behind
from coop.selectors.departure_slots import Question, digest, rows_of
from coop.selectors.parcel_bill import bill_of_parcel, parcel_prices
from coop.selectors.parcel_judgement import local_day
from coop.selectors.safe_fills import SafeFills, safe_fills
from coop.selectors.sharing_rules import Shared, Sharing


@dataclass
class Holding:
    """What one member has in a parcel."""

    member: Member
    masses_kg: list[float] = field(default_factory=list)
    lots: list[Lot] = field(default_factory=list)

    @property
    def mass_kg(self):
        return rounded_kg(self.masses_kg)

    @property
    def species(self):
        """Each once, in a lasting order."""
        return tuple(sorted({lot.species for lot in self.lots}, key=lambda species: species.pk))

    @property
    def warmest_c(self):
        return max(lot.start_temperature_c for lot in self.lots)

    @property
    def ready_at(self):
        return max(lot.ready_at for lot in self.lots)

    @property
    def deliver_by(self):
        return min((lot.deliver_by for lot in self.lots if lot.deliver_by), default=None)

    @property
    def terms(self):
        """What the cost of sending it alone rests on."""
        return (self.mass_kg, self.species, self.warmest_c, self.ready_at, self.deliver_by)


@dataclass(frozen=True)
class WorkedOut:
    """The bill of a parcel, what each holding would pay alone, and the bill shared by every rule."""

    bill: Bill
    holdings: tuple[Holding, ...]
    alone_minor: tuple[int | None, ...] = ()
    rules: tuple[Shared, ...] = ()
    core_is_empty: bool | None = None


def work_out_split(parcel) -> WorkedOut:
    """Of a parcel as `billed_parcel` reads it; without a bill there is nothing to share."""
    prices, holdings = parcel_prices(parcel), holdings_of(parcel)
    bill = bill_of_parcel(parcel, prices)
    if bill.cost is None:
        return WorkedOut(bill, holdings)
    designs = tuple(carton_designs_of(parcel.cooperative))
    question = question_about(parcel, holdings)
    rows = rows_of(question)
    terms = tuple(holding.terms for holding in holdings)
    about = (parcel.departs_at, parcel.timetable, parcel.cooperative, bill.cost.total)
    key = "split:" + digest(question, rows, prices, rows_behind(prices, designs), designs, terms, about)
    found = cache.get(key)
    if found is None:
        found = _shared(parcel, bill, holdings, prices, designs, (question, rows))
        cache.set(key, found, timeout=settings.ANSWER_SECONDS)
    return WorkedOut(bill, holdings, *found)


def holdings_of(parcel):
    """Holdings of all who have fish in it, by name."""
    found = {}
    parts = (part for carton in parcel.cartons.all() for part in carton.parts.all())
    for part in parts:
        holding = found.setdefault(part.lot.member_id, Holding(part.lot.member))
        holding.masses_kg.append(part.mass_kg)
        holding.lots.append(part.lot)
    return tuple(sorted(found.values(), key=lambda holding: (holding.member.name, holding.member.pk)))


def question_about(parcel, holdings):
    """The departures around that of a parcel, for its warmest fish."""
    first, last = days_around(local_day(parcel))
    return Question(
        cooperative=parcel.cooperative,
        route=parcel.route,
        buyer=parcel.buyer,
        species=holdings[0].species[0],
        designs=(),
        mass_kg=0.0,
        start_temperature_c=max(holding.warmest_c for holding in holdings),
        first_day=first,
        last_day=last,
        closes_at=None,
        deliver_by=None,
    )


def _shared(parcel, bill, holdings, prices, designs, asked):
    """What each pays alone, every rule, and whether the core is empty: what a cache can keep."""
    species = {species for holding in holdings for species in holding.species}
    fills = safe_fills(*asked, sorted(species, key=lambda species: species.pk))
    # The lightest first: where little fish stays hard, more need not be judged.
    lightest_first = sorted(holdings, key=lambda holding: holding.mass_kg)
    found = {holding.member.pk: _alone(holding, prices, designs, fills) for holding in lightest_first}
    alone = tuple(found[holding.member.pk] for holding in holdings)
    sharing = Sharing(
        masses=tuple(holding.mass_kg for holding in holdings),
        bill=bill.cost.total,
        alone=alone,
        cost=_costs(parcel, bill, prices, designs, fills),
        coin=parcel.cooperative.coin_minor,
    )
    return alone, sharing.rules(), sharing.core_is_empty


def _alone(holding, prices, designs, fills: SafeFills):
    own = fills.for_fish(
        species=holding.species,
        start_temperature_c=holding.warmest_c,
        deliver_by=holding.deliver_by,
    )
    return cheapest_alone(prices, designs, own, mass_kg=holding.mass_kg, ready_at=holding.ready_at)


def _costs(parcel, bill, prices, designs, fills):
    departure = fills.departure_at(parcel.timetable, parcel.departs_at)
    costs = CoalitionCosts(
        prices=prices,
        designs=designs,
        fills=fills,
        departure=departure,
        mass_kg=parcel.mass_kg,
        bill_minor=bill.cost.total,
    )
    return costs.of_masses
