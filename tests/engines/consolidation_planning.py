"""An invented day of planning: departures of three carriers every four hours, two designs of carton."""

import random
from datetime import timedelta
from fractions import Fraction

from coop.engines.consolidation import Lot, Offer
from coop.engines.tariff import ByStep, PerCarton, PerKilogram, Surcharge, Tariff
from tests.engines.consolidation_cases import DAY, HOUR, Day

TARIFFS = (
    Tariff(rules=(PerCarton(amount=15_000),), valid_from=DAY),
    Tariff(rules=(PerKilogram(amount=250, minimum_charge=20_000), PerCarton(amount=2000)), valid_from=DAY),
    Tariff(
        rules=(
            ByStep(
                steps=(
                    (0, 12_000),
                    (50, 20_000),
                    (100, 33_000),
                    (200, 60_000),
                    (400, 100_000),
                    (800, 150_000),
                )
            ),
            Surcharge(share=Fraction(1, 10)),
        ),
        valid_from=DAY,
    ),
)
DESIGNS = (
    {
        "capacity": 100,
        "volume": Fraction(19, 100),
        "tare": Fraction(29, 2),
        "least_mass": 40,
        "carton_cost": 9000,
    },
    {
        "capacity": 60,
        "volume": Fraction(115, 1000),
        "tare": Fraction(19, 2),
        "least_mass": 20,
        "carton_cost": 6500,
    },
)
SIDES = ((1, Fraction(7, 10), Fraction(7, 10)), (Fraction(8, 10), Fraction(6, 10), Fraction(6, 10)))
APART = {("kapenta", "clarias"), ("bream", "clarias")}


def planning_day(seed, *, lots=60, departures=20):
    """Lots of 5 to 100 kg, a fifth of them divisible; colder ones may take slower departures."""
    draw = random.Random(seed)
    cold = [draw.randint(0, 4) for _ in range(lots)]
    rows = [_lot(draw, number) for number in range(lots)]
    offers, places = [], {}
    for number in range(departures):
        departure, needed = f"departure {number}", draw.choice((0, 0, 0, 1, 2))
        places[departure] = draw.randint(1, 5)
        leaves_at, costs = (5 + 4 * number) * HOUR, draw.randint(100, 300)
        offers += [
            Offer(
                key=(departure, place),
                departure=departure,
                closes_at=leaves_at - HOUR,
                leaves_at=leaves_at,
                hands_over_by=leaves_at + 24 * HOUR,
                allowed=tuple(each >= needed for each in cold),
                kilogram_cost=costs,
                consignment_cost=6000,
                tariff=TARIFFS[number % 3],
                on=DAY + timedelta(hours=5 + 4 * number),
                sides=SIDES[place],
                **design,
            )
            for place, design in enumerate(DESIGNS)
        ]
    return Day(rows, offers, places, APART)


def _lot(draw, number):
    mass = Fraction(draw.choice((draw.randint(50, 300), draw.randint(100, 600), draw.randint(300, 1000))), 10)
    ready_at = draw.choice((0, 0, 6, 12, 24, 30)) * HOUR
    return Lot(
        key=f"lot {number}",
        mass=mass,
        kind=draw.choice(("kapenta", "bream", "buka", "bream", "clarias")),
        ready_at=ready_at,
        deadline=ready_at + draw.choice((48, 60, 72, 96, 1000)) * HOUR,
        may_split=draw.random() < 0.2,
        least_part=5,
        volume=mass * Fraction(draw.randint(140, 190), 100_000),
    )
