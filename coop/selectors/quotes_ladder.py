"""What each weight of a quote costs and is sold for, as it is kept with the quote: numbers and words."""

from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from coop.engines.costing import RANK, Cost
from coop.engines.money import exact
from coop.engines.price_ladder import price_ladder
from coop.engines.quote_ladder import Rung, Step, amount_of, markup_of, price_at, quote_ladder
from coop.errors import invalid
from coop.models import Carrier, CartonDesign
from coop.selectors.cost import Prices, bill_of

STEPS_KG = ("0.5", "1", "2", "5", "10", "20", "50", "100")
MOST_RUNGS = 400
"""A buyer chooses by half kilograms, or by more where that would be more weights than this."""
EVERY_KG = (1, 2, 5, 10, 20, 25, 50, 100, 200, 250, 500, 1000)
MOST_PRICES = 10
"""Besides the breaks: as many as people read on a small screen. Common practice, no source."""


@dataclass(frozen=True)
class Weight:
    """Kilograms that a buyer may choose, in how many cartons, and how sure they are to arrive hard."""

    kg: float
    cartons: int
    chance_hard: float
    softened_share: float


@dataclass(frozen=True)
class Reckoning:
    """What money does not change: where the fish goes on which day, and how profit and coins are reckoned."""

    carrier: Carrier
    design: CartonDesign
    day: date
    profit_kind: str
    profit_share: float
    coin_minor: int


def step_kg(most_kg):
    """Kilograms from one weight to the next that a buyer may choose, exactly."""
    steps = [Fraction(step) for step in STEPS_KG]
    return next((step for step in steps if most_kg / step <= MOST_RUNGS), steps[-1])


def cost_of(prices: Prices, reckoning: Reckoning, weight: Weight) -> Cost:
    """What one weight costs delivered, the fish too; Invalid where a price is missing."""
    bill = bill_of(
        prices,
        carrier=reckoning.carrier,
        design=reckoning.design,
        mass_kg=weight.kg,
        cartons=weight.cartons,
        day=reckoning.day,
        softened_share=weight.softened_share,
        with_fish=True,
    )
    if bill.missing:
        missing = ", ".join(bill.missing)
        raise invalid("departure", None, f"has no cost: {missing} is missing", "a departure with all prices")
    return bill.cost


def ladder_figures(prices: Prices, reckoning: Reckoning, weights, *, step) -> dict:
    """{lines, rungs, ladder} of a quote; `step` is kg from one weight to the next.

    The same prices and weights give the same figures, on whatever day they are worked out.
    """
    costs = {exact("kg", weight.kg): cost_of(prices, reckoning, weight) for weight in weights}
    rungs = [
        Rung(rung.mass, costs[rung.mass].sound_mass, rung.total, rung.is_break)
        for rung in price_ladder(costs, cost=costs.get)
    ]
    steps = quote_ladder(
        rungs,
        markup=markup_of(reckoning.profit_kind, reckoning.profit_share),
        coin=reckoning.coin_minor,
        gap=step,
        every=_every(rungs),
    )
    names = sorted({_name(line) for cost in costs.values() for line in cost.lines}, key=_order)
    return {
        "lines": [{"code": code, "name": name} for code, name in names],
        "rungs": [_rung(weight, cost, names) for weight, cost in zip(weights, costs.values(), strict=True)],
        "ladder": [_step(one, weights, costs) for one in steps],
    }


def price_of(figures, kg):
    """Price of a kilogram of one weight, minor units; None where a quote offers no such weight."""
    if not any(rung["kg"] == kg for rung in figures["rungs"]):
        return None
    return price_at(_steps(figures), kg)


def total_of(figures, kg):
    """What a buyer pays for one weight, minor units in whole coins; None where there is no such weight."""
    price = price_of(figures, kg)
    return None if price is None else amount_of(price, kg, coin=figures["coin_minor"])


def weights_of(figures):
    """The weights of a quote as it keeps them."""
    return [
        Weight(rung["kg"], rung["cartons"], rung["chance_hard"], rung["softened_share"])
        for rung in figures["rungs"]
    ]


def amounts_by_line(lines):
    """{(code, name): minor units} of the lines of a cost."""
    found = {}
    for line in lines:
        found[_name(line)] = found.get(_name(line), 0) + line.amount_minor
    return found


def _steps(figures):
    return [
        Step(*(exact("kg", step[name]) for name in ("from_kg", "to_kg")), step["price_minor_per_kg"])
        for step in figures["ladder"]
    ]


def _every(rungs):
    span = rungs[-1].mass - rungs[0].mass
    return next((every for every in EVERY_KG if span / every <= MOST_PRICES), EVERY_KG[-1])


def _name(line):
    return line.code, line.name


def _order(name):
    """In the order of the work, and then by name: rows that are read in another order change nothing."""
    code, words = name
    return RANK[code], words


def _order_of_line(line):
    return *_order((line["code"], line["name"])), line["unit"], line["rate_minor"], line["amount_minor"]


def _rung(weight, cost, names):
    amounts = amounts_by_line(cost.lines)
    return {
        "kg": weight.kg,
        "cartons": weight.cartons,
        "chance_hard": weight.chance_hard,
        "softened_share": weight.softened_share,
        "cost_minor": cost.total,
        "amounts_minor": [amounts.get(name) for name in names],
    }


def _step(step, weights, costs):
    """A step, with the lines of the bill of its first weight."""
    mine = [weight for weight in weights if step.from_mass <= exact("kg", weight.kg) <= step.to_mass]
    first = costs[step.from_mass]
    return {
        "from_kg": mine[0].kg,
        "to_kg": mine[-1].kg,
        "price_minor_per_kg": step.price,
        "cartons": first.cartons,
        "chance_hard": min(weight.chance_hard for weight in mine),
        "cost_minor": first.total,
        "lines": sorted(map(_line, first.lines), key=_order_of_line),
    }


def _line(line):
    return {
        "code": line.code,
        "name": line.name,
        "amount_minor": line.amount_minor,
        "quantity": float(line.quantity),
        "unit": line.unit,
        "rate_minor": float(line.rate_minor),
        "priced_on": line.priced_on and line.priced_on.isoformat(),
    }
