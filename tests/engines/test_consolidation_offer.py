import math

import pytest

from coop.engines.consolidation import Lot
from coop.engines.consolidation_offer import may_carry
from coop.engines.tariff import PerCarton, Tariff
from tests.engines.consolidation_cases import DAY, HOUR, Day, an_offer


@pytest.mark.parametrize(
    ("given", "named"),
    [
        ({"mass": math.nan}, "mass"),
        ({"mass": 0}, "mass"),
        ({"mass": 0.0001}, "mass"),
        ({"mass": 10**6}, "mass"),
        ({"volume": -1}, "volume"),
        ({"ready_at": math.nan}, "ready_at"),
        ({"deadline": math.nan}, "deadline"),
        ({"deadline": "noon"}, "deadline"),
        ({"least_part": 0}, "least_part"),
        ({"value": -1}, "value"),
        ({"value": math.inf}, "value"),
    ],
)
def test_a_lot_that_cannot_be_is_refused(given, named):
    with pytest.raises(ValueError, match=f"^{named} must"):
        Lot(**{"key": "a", "mass": 10, **given})


@pytest.mark.parametrize(
    ("given", "named"),
    [
        ({"capacity": math.nan}, "capacity"),
        ({"capacity": 90_000, "gross_per_kilogram": 2}, "capacity"),
        ({"least_mass": -1}, "least_mass"),
        ({"volume": 0}, "volume"),
        ({"closes_at": math.nan}, "closes_at"),
        ({"leaves_at": 9 * HOUR}, "leaves_at"),
        ({"hands_over_by": 1.0}, "hands_over_by"),
        ({"carton_cost": math.inf}, "carton_cost"),
        ({"kilogram_cost": -1}, "kilogram_cost"),
        ({"consignment_cost": "much"}, "consignment_cost"),
        ({"tare": -1}, "tare"),
        ({"gross_per_kilogram": 0}, "gross_per_kilogram"),
        ({"sides": (1, 0, 1)}, "sides"),
        ({"empties": 2}, "empties"),
        ({"places": 0}, "places"),
        ({"tariff": Tariff(rules=(PerCarton(amount=5),), valid_from=DAY), "on": None}, "on"),
    ],
)
def test_an_offer_that_cannot_be_is_refused(given, named):
    with pytest.raises(ValueError, match=f"^{named} must"):
        an_offer([], **given)


@pytest.mark.parametrize(
    ("day", "named"),
    [
        (lambda lots: Day([*lots, *lots], [], {}), "lots"),
        (lambda lots: Day(lots, [an_offer(lots), an_offer(lots)], {"d": 1}), "offers"),
        (lambda lots: Day(lots, [an_offer([])], {"d": 1}), "allowed"),
        (lambda lots: Day(lots, [an_offer(lots)], {"e": 1}), "places"),
        (lambda lots: Day(lots, [an_offer(lots)], {"d": -1}), "places"),
        (lambda lots: Day(lots, [an_offer(lots)], {"d": 1.5}), "places"),
        (lambda lots: Day(lots, [], {}, [(n, n + 1) for n in range(70)]), "may_not_share"),
    ],
)
def test_a_day_that_cannot_be_is_refused(day, named):
    with pytest.raises(ValueError, match=f"^{named} must"):
        day([Lot(key="a", mass=10)]).plan()


def test_a_tariff_of_another_day_is_refused():
    lots = [Lot(key="a", mass=10)]
    old = Tariff(rules=(PerCarton(amount=5),), valid_from=DAY.replace(year=2025), valid_until=DAY)
    with pytest.raises(ValueError, match="on must lie from"):
        Day(lots, [an_offer(lots, tariff=old)], {"d": 1}).plan()


@pytest.mark.parametrize(
    ("lot", "may"),
    [
        ({}, True),
        ({"ready_at": 10 * HOUR}, True),
        ({"ready_at": 10 * HOUR + 1}, False),
        ({"deadline": 30 * HOUR}, True),
        ({"deadline": 30 * HOUR - 1}, False),
        ({"mass": 100.001}, False),
        ({"mass": 150, "may_split": True}, True),
    ],
)
def test_a_lot_may_travel_up_to_the_very_limit(lot, may):
    a_lot = Lot(**{"key": "a", "mass": 100, **lot})
    assert may_carry(a_lot, an_offer([a_lot]), 0) is may


def test_a_lot_as_heavy_as_anything_may_be_is_planned():
    lots = [Lot(key=n, mass=90_000) for n in range(2)]
    found = Day(lots, [an_offer(lots, capacity=90_000)], {"d": 2}).plan()
    # Two such cartons would be heavier than any consignment that a tariff prices.
    assert (len(found.cartons), len(found.left_behind)) == (1, 1)
