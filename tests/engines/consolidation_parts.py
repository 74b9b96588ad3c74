"""Small days with lots that may be split, all in units of 5 kg, and every plan of such a day.

All borders lie on whole units and nothing jumps between them, so some best plan is one in whole units.
"""

import itertools
import random
from collections import Counter
from dataclasses import fields, replace
from fractions import Fraction

from coop.engines.consolidation import Lot, Offer
from coop.engines.consolidation_bill import consignment_cost
from coop.engines.money import half_up
from coop.engines.tariff import PerCarton, PerKilogram, Surcharge, Tariff
from tests.engines.consolidation_cases import DAY, SIDES, Day

UNIT = 5


def day_of_parts(seed, *, litres_a_unit=None):
    """One or two divisible lots, up to two whole ones, up to three cartons of one or two offers.

    litres_a_unit: of lots, drawn from; a carton then has room for less than it may weigh.
    """
    draw = random.Random(seed)
    lots = [
        Lot(
            key=f"lot {number}",
            mass=UNIT * draw.randint(1, 7),
            kind=draw.choice(("kapenta", "bream")),
            may_split=number < 2,
            least_part=draw.choice((5, 10)),
            value=draw.choice((None, None, 300)),
        )
        for number in range(draw.randint(1, 4))
    ]
    offers = [_offer(draw, lots, number) for number in range(draw.randint(1, 2))]
    if litres_a_unit:
        lots = [
            replace(lot, volume=lot.mass / UNIT * Fraction(draw.choice(litres_a_unit), 1000)) for lot in lots
        ]
        offers = [offer_with_volume(offer, draw.randint(30, 70)) for offer in offers]
    places = {"a": draw.randint(1, 2), "b": draw.randint(0, 1)}
    return Day(lots, offers, places, draw.choice(([], [("kapenta", "bream")])))


def offer_with_volume(offer, litres):
    """The same offer where a carton holds so many litres."""
    given = {each.name: getattr(offer, each.name) for each in fields(offer) if each.init}
    return Offer(**{**given, "volume": Fraction(litres, 1000)})


def _offer(draw, lots, number):
    rules = draw.choice(
        (
            [PerCarton(amount=3000)],
            [PerKilogram(amount=150, minimum_charge=150 * UNIT * draw.randint(1, 6))],
            [PerKilogram(amount=100), PerCarton(amount=2000, minimum_charge=5000)],
        )
    )
    rules = [*rules, *draw.choice(([], [Surcharge(share=Fraction(1, 10))]))]
    return Offer(
        key=f"offer {number}",
        departure="ab"[number],
        closes_at=1.0,
        leaves_at=2.0,
        hands_over_by=3.0,
        capacity=UNIT * draw.randint(3, 8),
        least_mass=draw.choice((0, 0, 10)),
        allowed=tuple(draw.random() < 0.9 for _ in lots),
        carton_cost=draw.randint(0, 4000),
        kilogram_cost=draw.choice((0, 60)),
        consignment_cost=draw.choice((0, 1500)),
        tariff=draw.choice((None, Tariff(rules=tuple(rules), valid_from=DAY))),
        on=DAY,
        sides=SIDES,
    )


def least_cost_in_parts(day, values):
    """The cost of the best plan in whole units, every one of them looked at; values as for least_cost."""
    slots = [o for o, offer in enumerate(day.offers) for _ in range(day.places[offer.departure])]
    best = None
    for choice in itertools.product(*(_allocations(day, n, slots) for n in range(len(day.lots)))):
        loads = [sum(units[slot] for units in choice) * UNIT for slot in range(len(slots))]
        if not all(_holds(day, slots[slot], load, slot, choice) for slot, load in enumerate(loads)):
            continue
        left = sum(
            half_up(values[lot.key] * (lot.mass - UNIT * sum(units)))
            for lot, units in zip(day.lots, choice, strict=True)
            if lot.key in values
        )
        cost = left + _bills(day, slots, loads)
        best = cost if best is None else min(best, cost)
    return best


def _bills(day, slots, loads):
    cartons, grams = Counter(), Counter()
    for o, load in zip(slots, loads, strict=True):
        cartons[o] += load > 0
        grams[o] += 1000 * load
    return sum(consignment_cost(day.offers[o], cartons=cartons[o], grams=grams[o]) for o in cartons)


def _allocations(day, number, slots):
    """Units of one lot in each slot: none, all in one place, or in parts that are not too small."""
    lot, total = day.lots[number], int(day.lots[number].mass / UNIT)
    open_slots = [slot for slot, o in enumerate(slots) if day.offers[o].allowed[number]]
    least = int(lot.least_part / UNIT)
    sizes = (0, total) if not lot.is_divisible else (0, *range(least, total + 1))
    for units in itertools.product(*(sizes if slot in open_slots else (0,) for slot in range(len(slots)))):
        if sum(units) <= total:
            yield units


def _holds(day, o, load, slot, choice):
    offer = day.offers[o]
    kinds = {lot.kind for lot, units in zip(day.lots, choice, strict=True) if units[slot]}
    apart = any(set(pair) <= kinds for pair in day.may_not_share)
    bulk = sum(
        (lot.volume or 0) * UNIT * units[slot] / lot.mass for lot, units in zip(day.lots, choice, strict=True)
    )
    fits = offer.volume is None or bulk <= offer.volume
    return load == 0 or (offer.least_mass <= load <= offer.capacity and fits and not apart)
