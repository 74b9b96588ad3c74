"""Days of planning for the tests, the check of a plan against every rule, and every plan of a small day."""

import itertools
import random
from collections import Counter, defaultdict
from datetime import date
from fractions import Fraction

from coop.engines.consolidation import Lot, Offer, plan
from coop.engines.consolidation_bill import consignment_cost
from coop.engines.money import half_up
from coop.engines.tariff import (
    ByStep,
    PerCarton,
    PerKilogram,
    PerSeat,
    PerVolume,
    PerVolumetricKilogram,
    ReturnOfEmpty,
    Surcharge,
    Tariff,
)

DAY = date(2026, 11, 25)
SIDES = (Fraction(1), Fraction(7, 10), Fraction(65, 100))
HOUR = 3600.0
KINDS = ("kapenta", "bream", "buka")
# Beasley 1990, OR-Library, binpack1, instance u120_00 (Falkenauer 1996, J. Heuristics 2:5): capacity 150,
# best known 48, and no fewer can do, since the sizes add up to 7078, more than 47 bins hold.
U120 = (
    *(42, 69, 67, 57, 93, 90, 38, 36, 45, 42, 33, 79, 27, 57, 44, 84, 86, 92, 46, 38, 85, 33, 82, 73, 49, 70),
    *(59, 23, 57, 72, 74, 69, 33, 42, 28, 46, 30, 64, 29, 74, 41, 49, 55, 98, 80, 32, 25, 38, 82, 30, 35, 39),
    *(57, 84, 62, 50, 55, 27, 30, 36, 20, 78, 47, 26, 45, 41, 58, 98, 91, 96, 73, 84, 37, 93, 91, 43, 73, 85),
    *(81, 79, 71, 80, 76, 83, 41, 78, 70, 23, 42, 87, 43, 84, 60, 55, 49, 78, 73, 62, 36, 44, 94, 69, 32, 96),
    *(70, 84, 58, 78, 25, 80, 58, 66, 83, 24, 98, 60, 42, 43, 43, 39),
)


class Day:
    """A day with keyword defaults: lots, offers, places and pairs that may not share."""

    def __init__(self, lots, offers, places, may_not_share=()):
        self.lots, self.offers, self.places, self.may_not_share = lots, offers, places, may_not_share

    def plan(self, *, clock=lambda: 0.0, time_limit=60, gap=0):
        return plan(
            self.lots,
            self.offers,
            places=self.places,
            may_not_share=self.may_not_share,
            time_limit=time_limit,
            gap=gap,
            clock=clock,
        )


def an_offer(lots, key="o", **given):
    """An offer that all lots may take, of 100 kg a carton at 1 000 each."""
    usual = {
        "departure": "d",
        "closes_at": 10 * HOUR,
        "leaves_at": 11 * HOUR,
        "hands_over_by": 30 * HOUR,
        "capacity": 100,
        "allowed": (True,) * len(lots),
        "carton_cost": 1000,
        "sides": SIDES,
        "on": DAY,
    }
    return Offer(key=key, **{**usual, **given})


def bin_packing():
    """u120_00 as a day: one departure, a carton costs 1, a kilogram nothing."""
    lots = [Lot(key=number, mass=size) for number, size in enumerate(U120)]
    return Day(lots, [an_offer(lots, capacity=150, carton_cost=1)], {"d": 60})


def a_tariff(draw, *, steps=True):
    """One to three rules of any kind, sometimes with a share on top."""
    rules = [_rule(draw, steps) for _ in range(draw.randint(1, 3))]
    rules += [Surcharge(share=Fraction(draw.randint(-20, 50), 100)) for _ in range(draw.randint(0, 1))]
    return Tariff(rules=tuple(rules), valid_from=DAY)


def _rule(draw, steps):
    amount, least = draw.randint(0, 400), draw.choice((0, 5 * draw.randint(1, 8)))
    kinds = [
        lambda: PerCarton(amount=30 * amount, minimum_charge=draw.choice((0, 15_000))),
        lambda: PerKilogram(amount=amount, minimum_charge=amount * least),
        lambda: PerKilogram(amount=amount, minimum_mass=least),
        lambda: PerVolume(amount=100 * amount),
        lambda: PerVolumetricKilogram(amount=amount, minimum_mass=least),
        lambda: PerSeat(amount=10 * amount, seats_per_carton=2, minimum_charge=draw.choice((0, 6000))),
        lambda: ReturnOfEmpty(amount=10 * amount, minimum_charge=draw.choice((0, 3000))),
    ]
    if steps:
        starts = [0, *sorted(draw.sample(range(5, 60, 5), draw.randint(0, 3)))]
        kinds.append(
            lambda: ByStep(
                steps=tuple((start, draw.randint(0, 12_000)) for start in starts), per_kilogram=False
            )
        )
        kinds.append(
            lambda: ByStep(steps=tuple((start, draw.randint(0, 300)) for start in starts), per_kilogram=True)
        )
    return draw.choice(kinds)()


def small_day(seed):
    """At most five whole lots and three offers: hours, places, kinds that clash, minimums, steps, volumes."""
    draw = random.Random(seed)
    lots = [
        Lot(
            key=f"lot {number}",
            mass=draw.choice((draw.randint(1, 40), Fraction(draw.randint(10, 400), 10), 20)),
            volume=Fraction(draw.randint(5, 60), 1000),
            kind=draw.choice(KINDS),
            ready_at=draw.choice((0, 8, 12)) * HOUR,
            deadline=draw.choice((20, 35, 1000)) * HOUR,
            value=draw.choice((None, 0, 300, 2000)),
        )
        for number in range(draw.randint(0, 5))
    ]
    offers = [_small_offer(draw, lots, number) for number in range(draw.randint(0, 3))]
    pairs = draw.sample([("kapenta", "bream"), ("bream", "buka"), ("buka", "buka")], draw.randint(0, 2))
    return Day(lots, offers, {"a": draw.randint(0, 3), "b": draw.randint(0, 4)}, pairs)


def _small_offer(draw, lots, number):
    closes_at = draw.choice((5, 9, 13)) * HOUR
    return Offer(
        key=f"offer {number}",
        departure=draw.choice("ab"),
        closes_at=closes_at,
        leaves_at=closes_at + HOUR,
        hands_over_by=closes_at + draw.choice((10, 20, 30)) * HOUR,
        capacity=draw.choice((20, 40, Fraction(555, 10))),
        volume=draw.choice((None, Fraction(80, 1000))),
        least_mass=draw.choice((0, 0, 15)),
        allowed=tuple(draw.random() < 0.9 for _ in lots),
        carton_cost=draw.randint(0, 8000),
        kilogram_cost=draw.choice((0, draw.randint(0, 200))),
        consignment_cost=draw.choice((0, 4000)),
        tariff=draw.choice((None, a_tariff(draw), a_tariff(draw))),
        on=DAY,
        sides=SIDES,
        tare=draw.choice((0, Fraction(25, 2))),
        gross_per_kilogram=draw.choice((1, Fraction(102, 100))),
        empties=draw.choice((0, Fraction(9, 10))),
        places=draw.choice((1, 1, 2)),
    )


def breaches(day, found):
    """Every rule that a plan breaks, in words."""
    lots, offers = {lot.key: lot for lot in day.lots}, {offer.key: offer for offer in day.offers}
    number = {lot.key: place for place, lot in enumerate(day.lots)}
    clash = {frozenset(pair) for pair in day.may_not_share}
    wrong, carried, taken = [], defaultdict(list), Counter()
    for carton in found.cartons:
        offer, parts = offers[carton.offer], [(lots[key], mass) for key, mass in carton.parts]
        taken[offer.departure] += offer.places
        mass = sum(kg for _, kg in parts)
        wrong += [f"{mass} kg in {offer.key}"] * (
            not max(offer.least_mass, Fraction(1, 1000)) <= mass <= offer.capacity
        )
        if offer.volume is not None:
            bulk = sum(lot.volume * kg / lot.mass for lot, kg in parts if lot.volume)
            wrong += [f"{bulk} m³ in {offer.key}"] * (bulk > offer.volume + Fraction(1, 10**5))
        wrong += [
            f"{one.kind} beside {other.kind}"
            for (one, _), (other, _) in itertools.combinations(parts, 2)
            if frozenset((one.kind, other.kind)) in clash and one.key != other.key
        ]
        for lot, kg in parts:
            carried[lot.key].append(kg)
            late = lot.ready_at > offer.closes_at or offer.hands_over_by > lot.deadline
            wrong += [f"{lot.key} late"] * late + [f"{lot.key} unsafe"] * (not offer.allowed[number[lot.key]])
            wrong += [f"{kg} kg of {lot.key}"] * (
                kg < lot.mass and (not lot.may_split or kg < lot.least_part)
            )
    wrong += [f"{count} cartons on {key}" for key, count in taken.items() if count > day.places[key]]
    for lot in day.lots:
        left = found.left_behind[lot.key].mass if lot.key in found.left_behind else 0
        wrong += [f"{lot.key} does not add up"] * (sum(carried[lot.key]) + left != lot.mass)
    return wrong


def billed(day, found):
    """What the consignments of a plan cost, from its cartons alone."""
    loads = defaultdict(lambda: [0, Fraction(0)])
    for carton in found.cartons:
        loads[carton.offer][0] += 1
        loads[carton.offer][1] += sum(mass for _, mass in carton.parts)
    offers = {offer.key: offer for offer in day.offers}
    return sum(
        consignment_cost(offers[key], cartons=count, grams=int(mass * 1000))
        for key, (count, mass) in loads.items()
    )


def least_cost(day, values):
    """The cost of the best plan of a day of whole lots, every one of them looked at.

    values: minor units a kg of lots that could go, by key; others do not count.
    """
    best = None
    for choice in itertools.product(range(-1, len(day.offers)), repeat=len(day.lots)):
        loads = [frozenset(n for n, offer in enumerate(choice) if offer == o) for o in range(len(day.offers))]
        if not all(_may_travel(day, o, load) for o, load in enumerate(loads)):
            continue
        stays = (lot for lot, offer in zip(day.lots, choice, strict=True) if offer < 0 and lot.key in values)
        left = sum(half_up(values[lot.key] * lot.mass) for lot in stays)
        counts = [sorted(_carton_counts(day, o, load)) for o, load in enumerate(loads)]
        for numbers in itertools.product(*counts):
            taken = Counter()
            for offer, count in zip(day.offers, numbers, strict=True):
                taken[offer.departure] += count * offer.places
            if any(count > day.places[key] for key, count in taken.items()):
                continue
            bill = sum(_bill(day, o, count, loads[o]) for o, count in enumerate(numbers))
            best = bill + left if best is None else min(best, bill + left)
    return best


def _bill(day, offer, count, load):
    grams = int(sum(day.lots[n].mass for n in load) * 1000)
    return consignment_cost(day.offers[offer], cartons=count, grams=grams)


def _may_travel(day, o, load):
    offer = day.offers[o]
    return all(
        day.lots[n].ready_at <= offer.closes_at
        and offer.hands_over_by <= day.lots[n].deadline
        and offer.allowed[n]
        for n in load
    )


def _carton_counts(day, o, load):
    """Numbers of cartons of an offer into which a set of lots can be parted."""
    if not load:
        return {0}
    first, *others = sorted(load)
    found = set()
    for size in range(len(others) + 1):
        for beside in itertools.combinations(others, size):
            group = frozenset((first, *beside))
            if _fits(day, o, group):
                found |= {1 + count for count in _carton_counts(day, o, load - group)}
    return found


def _fits(day, o, group):
    offer, lots = day.offers[o], [day.lots[n] for n in group]
    clash = {frozenset(pair) for pair in day.may_not_share}
    mass, bulk = sum(lot.mass for lot in lots), sum(lot.volume for lot in lots)
    return (
        offer.least_mass <= mass <= offer.capacity
        and (offer.volume is None or bulk <= offer.volume)
        and not any(frozenset((a.kind, b.kind)) in clash for a, b in itertools.combinations(lots, 2))
    )
