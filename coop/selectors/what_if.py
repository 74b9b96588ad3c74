"""A new fare or a surcharge tried on the coming departures and quotes: nothing of it is written."""

import copy
from dataclasses import dataclass, replace
from datetime import date, datetime

from coop.engines.costing import Cost
from coop.models import (
    Buyer,
    CartonDesign,
    Cooperative,
    Route,
    RuleKind,
    Species,
    Tariff,
    TariffRule,
    TariffStep,
)
from coop.selectors.cartons import designs_between
from coop.selectors.cost import Prices, bill_of, prices_for
from coop.selectors.departure_slots import Question, Slot, rows_of, slots_of
from coop.selectors.packing import cartons_for, mass_fault

ANY_TEMPERATURE_C = -18.0
"""A bill does not rest on it, but a question about departures names one."""


@dataclass(frozen=True)
class Trial:
    """What is tried from a day on: rules of a fare by (carrier id, route id), and a share on top of all."""

    cooperative: Cooperative
    valid_from: date
    rules: dict
    surcharge_share: float | None = None

    def prices(self, cooperative, route, buyer, species) -> Prices:
        """Prices with what is tried in place of what is stored; called as `prices_for` is."""
        prices = prices_for(cooperative, route, buyer, species)
        tariffs = list(prices.tariffs)
        for (carrier_id, route_id), rules in self.rules.items():
            if route_id == route.pk:
                tariffs = self._with_rules(tariffs, carrier_id, rules)
        if self.surcharge_share is not None:
            tariffs = [part for row in tariffs for part in self._with_surcharge(row)]
        return replace(prices, tariffs=tuple(tariffs))

    def _with_rules(self, tariffs, carrier_id, rules):
        own = [row for row in tariffs if row.carrier_id == carrier_id]
        later = min((row.valid_from for row in own if row.valid_from > self.valid_from), default=None)
        kept = [row for row in tariffs if row.carrier_id != carrier_id]
        for row in own:
            kept += [] if row.valid_from == self.valid_from else [self._until(row)]
        return [*kept, _tried(carrier_id, self.valid_from, later, rules)]

    def _until(self, row):
        return _like(row, valid_until=self.valid_from) if row.counts_on(self.valid_from) else row

    def _with_surcharge(self, row):
        """A tariff in two: as it is, and from the day on with a share on top of it."""
        if row.valid_until is not None and row.valid_until <= self.valid_from:
            return [row]
        begins = max(row.valid_from, self.valid_from)
        before = [_like(row, valid_until=begins)] if row.valid_from < begins else []
        on_top = TariffRule(kind=RuleKind.SURCHARGE, surcharge_share=self.surcharge_share, months=[])
        return [*before, _like(row, [*row.rules.all(), _rule(on_top, ())], valid_from=begins)]


@dataclass(frozen=True)
class Tried:
    """One coming departure with one carton design: minor units a kilogram as it is, and as it would be."""

    slot: Slot
    design: CartonDesign
    before: Cost | None
    after: Cost | None

    @property
    def key(self):
        return f"{self.slot.timetable.pk}-{self.slot.departs_at:%Y%m%d}-{self.design.slug}"


def departures_tried(
    trial: Trial, *, route: Route, buyer: Buyer, species: Species, mass_kg, last_day, now: datetime
) -> list[Tried]:
    """Departures from the day of the change on, until a last day, whichever arrives hard or not."""
    cooperative, first_day = trial.cooperative, trial.valid_from
    designs = tuple(designs_between(cooperative, first_day, last_day))
    question = Question(
        cooperative=cooperative,
        route=route,
        buyer=buyer,
        species=species,
        designs=designs,
        mass_kg=mass_kg,
        start_temperature_c=ANY_TEMPERATURE_C,
        first_day=first_day,
        last_day=last_day,
        closes_at=None,
        deliver_by=None,
    )
    now_paid = prices_for(cooperative, route, buyer, species)
    then_paid = trial.prices(cooperative, route, buyer, species)
    slots = [slot for slot in slots_of(question, rows_of(question)) if slot.closes_at >= now]
    return [
        Tried(slot, design, *(_cost(prices, slot, design, mass_kg) for prices in (now_paid, then_paid)))
        for slot in slots
        for design in designs
        if design.counts_on(slot.day) and not mass_fault(design, mass_kg, places=slot.carrier.carton_places)
    ]


def _cost(prices, slot, design, mass_kg):
    cartons = cartons_for(design, mass_kg)
    return bill_of(
        prices, carrier=slot.carrier, design=design, mass_kg=mass_kg, cartons=cartons, day=slot.day
    ).cost


def _like(row, rules=None, **columns):
    """A tariff that is not stored, with the rules of another one unless others are named."""
    other = copy.copy(row)
    for name, value in columns.items():
        setattr(other, name, value)
    return _holding(other, "rules", list(row.rules.all()) if rules is None else rules)


def _tried(carrier_id, begins, ends, rules):
    # It is confirmed by whoever tries it.
    row = Tariff(carrier_id=carrier_id, valid_from=begins, valid_until=ends, confirmed_on=begins)
    found = []
    for position, columns in enumerate(rules, start=1):
        steps = [
            TariffStep(**step) for step in sorted(columns.get("steps") or (), key=lambda one: one["from_kg"])
        ]
        plain = {name: value for name, value in columns.items() if name != "steps"}
        found.append(_rule(TariffRule(**{**plain, "position": position}), steps))
    return _holding(row, "rules", found)


def _rule(rule, steps):
    return _holding(rule, "steps", list(steps))


def _holding(row, relation, parts):
    """A row with parts that are not stored, where `relation.all()` finds them."""
    row.pk = row.pk or 0
    row._prefetched_objects_cache = {**getattr(row, "_prefetched_objects_cache", {}), relation: parts}
    return row
