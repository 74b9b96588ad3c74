"""Quotes that would lose money by what is known today, and which lines of their cost have moved."""

from dataclasses import dataclass

from django.db.models import Q

from coop.engines.money import exact, rounded_up
from coop.errors import Invalid
from coop.models import ParcelState, Quote, QuoteState
from coop.selectors.cartons import carton_designs_of
from coop.selectors.cost import prices_for
from coop.selectors.quotes import quotes_of
from coop.selectors.quotes_figures import day_of, reckoning_of
from coop.selectors.quotes_ladder import amounts_by_line, cost_of, price_of, weights_of

GONE_ON = (ParcelState.DEPARTED, ParcelState.HANDED_OVER, ParcelState.SETTLED)


@dataclass(frozen=True)
class Moved:
    """One line of a cost, minor units, as it was issued and as it is now; None where there was or is none."""

    code: str
    name: str
    before_minor: int | None
    after_minor: int | None


@dataclass(frozen=True)
class Losing:
    """A quote, and what it loses at the weight at which it loses most; nothing where no cost is known."""

    quote: Quote
    kg: float
    loses_minor: int | None
    loses_minor_per_kg: int | None
    why: tuple[Moved, ...]
    missing: str = ""


def losing_quotes(cooperative, *, now, prices_of=prices_for):
    """Losing of the quotes that may still be accepted, or were and have not left, the worst first.

    prices_of(cooperative, route, buyer, species) gives the Prices to reckon with: another one tries a change
    before it is saved.
    """
    waiting = Q(shown_state=QuoteState.ISSUED) | (
        Q(state=QuoteState.ACCEPTED, departs_at__gt=now) & ~Q(parcel__state__in=GONE_ON)
    )
    known, designs, found = {}, list(carton_designs_of(cooperative)), []
    for quote in quotes_of(cooperative, now).filter(waiting):
        way = (quote.route, quote.buyer, quote.supply.species)
        if way not in known:
            known[way] = prices_of(cooperative, *way)
        loses = loss_of(quote, known[way], design_now(quote, designs))
        found += [loses] if loses else []
    return sorted(found, key=lambda one: (one.loses_minor is not None, -(one.loses_minor or 0)))


def loss_of(quote, prices, design):
    """Losing of one quote at these prices, or None where it loses nothing at any weight still to be had."""
    figures = quote.figures
    reckoning = reckoning_of(quote, figures["coin_minor"], design)
    worst = None
    for place, weight in enumerate(weights_of(figures)):
        if not may_be_sold(quote, weight.kg):
            continue
        try:
            cost = cost_of(prices, reckoning, weight)
        except Invalid as unknown:
            return Losing(quote, weight.kg, None, None, (), unknown.problems[0].problem)
        loses = rounded_up(cost.total - price_of(figures, weight.kg) * cost.sound_mass)
        if loses > 0 and (worst is None or loses > worst.loses_minor):
            a_kilogram = rounded_up(loses / exact("kg", weight.kg))
            worst = Losing(quote, weight.kg, loses, a_kilogram, moved(figures, place, cost))
    return worst


def may_be_sold(quote, kg):
    """Whether this weight is what was accepted, or may still be."""
    return kg == quote.accepted_kg if quote.accepted_kg else kg <= quote.left_kg


def moved(figures, place, cost):
    """Lines that are not what they were, of one weight, the greatest rise first."""
    names = [(line["code"], line["name"]) for line in figures["lines"]]
    before = dict(zip(names, figures["rungs"][place]["amounts_minor"], strict=True))
    after = amounts_by_line(cost.lines)
    lines = [Moved(*name, before.get(name), after.get(name)) for name in {**before, **after}]
    changed = [line for line in lines if line.before_minor != line.after_minor]
    return tuple(sorted(changed, key=lambda line: (line.before_minor or 0) - (line.after_minor or 0)))


def design_now(quote, designs):
    """The version of its carton that counts on the day by what is known now, or else that of the quote.

    A parcel that is opened keeps the version that it was opened with.
    """
    if quote.parcel:
        return next(row for row in designs if row.pk == quote.parcel.design_id)
    same = (row for row in designs if row.slug == quote.design.slug and row.counts_on(day_of(quote)))
    return next(same, None) or next(row for row in designs if row.pk == quote.design_id)
