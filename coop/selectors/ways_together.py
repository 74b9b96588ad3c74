"""Fish that shares a carton: how full and how safe it is then, and what each of its owners pays."""

from django.conf import settings
from django.core.cache import cache

from coop.models import Lot, Separation, SharingRule
from coop.selectors.coalition_costs import CoalitionCosts, cheapest_alone, days_around
from coop.selectors.cost import rows_behind
from coop.selectors.departure_slots import digest, rows_of
from coop.selectors.parcel_judgement import Fill
from coop.selectors.safe_fills import safe_fills
from coop.selectors.sharing_rules import Sharing
from coop.selectors.split_worked_out import Holding


def own_fill(known):
    """Fill of the fish that is asked about, by itself."""
    question = known.question
    return Fill(question.mass_kg, (question.species,), question.start_temperature_c, question.deliver_by)


def joined_fill(one, other):
    """Of two fillings in one carton: the warmest fish, the first deadline, each species once."""
    species = {row.pk: row for row in (*one.species, *other.species)}
    return Fill(
        mass_kg=round(one.mass_kg + other.mass_kg, 3),
        species=tuple(species.values()),
        start_temperature_c=max(one.start_temperature_c, other.start_temperature_c),
        deliver_by=min(filter(None, (one.deliver_by, other.deliver_by)), default=None),
    )


def kept_apart(cooperative):
    """Pairs of species that may not share a carton."""
    return {row.pair for row in Separation.objects.of(cooperative)}


def own_holding(known):
    """Holding of the fish that is asked about; it need not be stored."""
    question = known.question
    lot = Lot(
        species=question.species,
        mass_kg=question.mass_kg,
        start_temperature_c=question.start_temperature_c,
        ready_at=question.ready_at,
        deliver_by=question.deliver_by,
    )
    return Holding(question.member, [question.mass_kg], [lot])


class Together:
    """Those who would share one bill; fish of one member counts as one, the asker's last."""

    def __init__(self, known, holdings, bill_minor):
        self.known, self.bill_minor = known, bill_minor
        *others, own = holdings
        mine = own.member.pk
        for holding in (one for one in others if one.member.pk == mine):
            own = Holding(own.member, holding.masses_kg + own.masses_kg, holding.lots + own.lots)
        self.holdings = [*(one for one in others if one.member.pk != mine), own]

    def share_of_last(self, *, timetable, departs_at):
        """Minor units that the asker pays by the cooperative's rule, remembered while nothing changes."""
        question, prices = self.known.question, self.known.prices
        first, last = days_around(departs_at.astimezone(question.zone).date())
        asked = question.about(designs=(), first_day=first, last_day=last)
        rows = rows_of(asked)
        terms = tuple((holding.member, *holding.terms) for holding in self.holdings)
        behind = (prices, rows_behind(prices, question.designs), question.designs)
        key = "together:" + digest(asked, rows, behind, terms, self.bill_minor, timetable, departs_at)
        found = cache.get(key)
        if found is None:
            found = self._worked_out(asked, rows, timetable, departs_at)
            cache.set(key, found, timeout=settings.ANSWER_SECONDS)
        return found

    def _worked_out(self, asked, rows, timetable, departs_at):
        species = {row.pk: row for holding in self.holdings for row in holding.species}
        fills = safe_fills(asked, rows, [species[pk] for pk in sorted(species)])
        costs = CoalitionCosts(
            prices=self.known.prices,
            designs=self.known.question.designs,
            fills=fills,
            departure=fills.departure_at(timetable, departs_at),
            mass_kg=sum(holding.mass_kg for holding in self.holdings),
            bill_minor=self.bill_minor,
        )
        cooperative = asked.cooperative
        shared = Sharing(
            masses=tuple(holding.mass_kg for holding in self.holdings),
            bill=self.bill_minor,
            alone=tuple(self._alone(fills, holding) for holding in self.holdings),
            cost=costs.of_masses,
            coin=cooperative.coin_minor,
        ).rules()
        return amounts_by(cooperative.sharing_rule, shared)[-1]

    def _alone(self, fills, holding):
        own = fills.for_fish(
            species=holding.species, start_temperature_c=holding.warmest_c, deliver_by=holding.deliver_by
        )
        return cheapest_alone(
            self.known.prices, self.known.question.designs, own,
            mass_kg=holding.mass_kg, ready_at=holding.ready_at,
        )  # fmt: skip


def amounts_by(rule, shared):
    """Amounts of the cooperative's rule, or of the one that works for any number of players."""
    by_rule = {one.rule: one.amounts_minor for one in shared}
    return by_rule.get(rule) or by_rule[SharingRule.CAPPED]
