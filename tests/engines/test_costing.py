from datetime import date
from decimal import ROUND_HALF_UP, Decimal, localcontext
from fractions import Fraction

import numpy as np
import pytest

from coop.engines import tariff as tariffs
from coop.engines.costing import (
    CODES,
    DRIP_SHARE,
    ORDER,
    Item,
    Softening,
    cost,
    cost_lines,
    cost_per_sound_kilogram,
    sound_mass,
)
from coop.engines.tariff import Consignment, Tariff, fare

DAY = date(2026, 3, 10)
FISH = Item(code="fish", basis="kilogram", rate=4500, priced_on=date(2026, 3, 1))
EVERYTHING = [
    Item(code="receiver", basis="carton", rate=900),
    Item(code="papers", basis="consignment", rate=5000),
    FISH,
    Item(code="labour", basis="carton", quantity=Fraction(1, 3), unit="h", rate=2500),
    Item(code="freezing_energy", basis="kilogram", quantity=0.38, unit="kWh", rate=120),
    Item(code="material", name="sack of shavings", basis="carton", quantity=2.5, unit="sack", rate=450),
    Item(code="levy", basis="kilogram", rate=15),
    Item(code="handling", basis="carton", rate=500, priced_on=date(2025, 11, 2)),
]


def amounts(lines):
    return [(line.code, line.amount_minor) for line in lines]


def one(item, *, mass=80, cartons=2):
    (line,) = cost_lines(mass=mass, cartons=cartons, items=[item])
    return line


def test_a_bill_holds_every_component_in_the_order_of_the_work():
    carried = Consignment(
        gross_mass=120, cartons=2, outer_length=1, outer_width=0.7, outer_height=0.7, empties=2
    )
    rules = [tariffs.ReturnOfEmpty(amount=3000), tariffs.PerCarton(amount=5000), tariffs.Surcharge(share=0.1)]
    lines = cost_lines(
        mass=80,
        cartons=2,
        items=EVERYTHING,
        fare=fare(Tariff(rules=rules, valid_from=DAY), consignment=carried, on=DAY),
        softening=Softening(share=0.01, hard_price=7000, soft_price=4000),
    )
    # By hand: 80 kg in 2 cartons; a tenth of 16 000 on top; 0.8 kg soft, less drip, lose 3000 each.
    assert amounts(lines) == [
        ("fish", 360_000),
        ("freezing_energy", 3648),
        ("material", 2250),
        ("labour", 1667),
        ("handling", 1000),
        ("fare_per_carton", 10_000),
        ("fare_surcharge", 1600),
        ("levy", 1200),
        ("papers", 5000),
        ("receiver", 1800),
        ("return_of_empty", 6000),
        ("softening", 2336),
    ]


@pytest.mark.parametrize(("basis", "amount"), [("consignment", 700), ("carton", 2100), ("kilogram", 56_350)])
def test_what_is_paid_counts_by_consignment_carton_or_kilogram(basis, amount):
    assert one(Item(code="levy", basis=basis, rate=700), mass=80.5, cartons=3).amount_minor == amount


def test_fish_may_be_left_out():
    without = [item for item in EVERYTHING if item is not FISH]
    whole, carried = (cost(mass=80, cartons=2, items=items) for items in (EVERYTHING, without))
    assert whole.total - carried.total == 360_000


def test_a_line_keeps_its_basis_name_and_the_day_of_its_price():
    line = one(FISH)
    assert (line.quantity, line.unit, line.rate_minor, line.priced_on) == (
        80,
        "kilogram",
        4500,
        date(2026, 3, 1),
    )
    shavings = one(EVERYTHING[5])
    assert (shavings.name, shavings.quantity, shavings.unit) == ("sack of shavings", 5, "sack")


def test_a_bill_knows_its_oldest_price():
    assert cost(mass=80, cartons=2, items=EVERYTHING).oldest_price == date(2025, 11, 2)
    assert cost(mass=80, cartons=2, items=[Item(code="levy", basis="carton", rate=1)]).oldest_price is None


def test_a_box_that_makes_twenty_trips_costs_a_twentieth_on_each():
    line = one(Item(code="material", basis="carton", rate=90_000, trips=20))
    assert (line.amount_minor, line.quantity, line.rate_minor) == (9000, Fraction(1, 10), 90_000)


def test_a_box_that_may_get_lost_costs_more_a_trip():
    # Two trips, half of the boxes lost on the first: one and a half trips on average.
    assert one(Item(code="material", basis="carton", rate=900, trips=2, loss_chance=0.5)).amount_minor == 1200


@pytest.mark.parametrize(("mass", "bags"), [(80, 40), (80.1, 41), (81.9, 41), (0.1, 1)])
def test_whole_units_are_bought_whole_for_the_consignment(mass, bags):
    bag = Item(code="material", basis="kilogram", quantity=0.5, unit="bag", rate=20, whole_units=True)
    assert (one(bag, mass=mass).quantity, one(bag, mass=mass).amount_minor) == (bags, 20 * bags)


def random_bill(rng):
    """A bill of random components, items and shares as a person might enter them, with few decimals."""

    def number(most, places):
        return round(float(rng.uniform(0, most)), places)

    mass, cartons = number(500, 2) + 0.01, int(rng.integers(1, 9))
    items = [
        Item(
            code=str(rng.choice(CODES)),
            basis=str(rng.choice(["consignment", "carton", "kilogram"])),
            rate=int(rng.integers(0, 10**6)),
            quantity=number(5, 3),
            trips=int(rng.integers(1, 4)),
            loss_chance=number(1, 1),
            whole_units=bool(rng.integers(2)),
        )
        for _ in range(rng.integers(1, 6))
    ]
    rules = [
        tariffs.PerCarton(amount=int(rng.integers(10**5))),
        tariffs.PerKilogram(amount=int(rng.integers(10**4)), minimum_charge=int(rng.integers(10**5))),
        tariffs.Surcharge(share=number(1, 3)),
    ]
    carried = Consignment(
        gross_mass=mass + 9, cartons=cartons, outer_length=1, outer_width=0.7, outer_height=0.7
    )
    softening = Softening(share=number(1, 4), hard_price=9000, soft_price=int(rng.integers(9001)))
    paid = fare(Tariff(rules=rules, valid_from=DAY), consignment=carried, on=DAY)
    return cost(mass=mass, cartons=cartons, items=items, fare=paid, softening=softening)


def rounded_by_decimal(line):
    exact = line.quantity * line.rate_minor
    with localcontext(prec=60):
        return int(
            (Decimal(exact.numerator) / Decimal(exact.denominator)).quantize(Decimal(1), ROUND_HALF_UP)
        )


def test_the_lines_of_ten_thousand_random_consignments_sum_to_the_total_exactly():
    rng = np.random.default_rng(20_26)
    for _ in range(10_000):
        bill = random_bill(rng)
        assert type(bill.total) is int
        assert bill.total == sum(rounded_by_decimal(line) for line in bill.lines)
        unrounded = sum(line.quantity * line.rate_minor for line in bill.lines)
        assert abs(bill.total - unrounded) <= Fraction(len(bill.lines), 2)
        if bill.sound_mass:
            assert 0 <= bill.per_kilogram * bill.sound_mass - bill.total < bill.sound_mass


@pytest.mark.parametrize("share", [0, 0.004, 0.05, 0.6, 1])
@pytest.mark.parametrize("soft_price", [0, 2500, 7000])
def test_selling_hard_and_soft_covers_the_cost_just_where_hard_fish_sells_at_the_cost_of_a_sound_kilogram(
    share, soft_price
):
    hard_price = 7000
    softening = Softening(share=share, hard_price=hard_price, soft_price=soft_price)
    bill = cost(mass=80, cartons=2, items=EVERYTHING, softening=softening)
    paid = sum(line.amount_minor for line in bill.lines if line.code != "softening")
    softened = 80 * Fraction(str(share))
    earned = (80 - softened) * hard_price + softened * (1 - DRIP_SHARE) * soft_price
    # Only the rounding of the one line stands between the two.
    assert abs((earned - paid) - (hard_price * bill.sound_mass - bill.total)) <= Fraction(1, 2)


def test_drip_is_2_65_percent_of_what_thaws():
    # Cod after one freeze and thaw, 2.65 % ± 0.14 (J. Fish Biol. 95:1486, 2019).
    softening = Softening(share=0.5, hard_price=7000, soft_price=4000)
    assert float(sound_mass(80, softening=softening)) == pytest.approx(80 - 40 * 0.0265, abs=40 * 0.0014)


def test_where_no_price_is_known_softened_fish_counts_as_lost():
    for softening in (Softening(share=0.1), Softening(share=0.1, hard_price=7000)):
        bill = cost(mass=80, cartons=2, items=[FISH], softening=softening)
        assert amounts(bill.lines) == [("fish", 360_000)]
        assert (bill.sound_mass, bill.per_kilogram) == (72, 5000)


def test_where_nothing_sound_arrives_a_kilogram_has_no_cost():
    assert cost(mass=80, cartons=2, items=[FISH], softening=Softening(share=1)).per_kilogram is None


def test_more_softening_never_makes_a_kilogram_cheaper():
    costs = [
        cost(
            mass=80,
            cartons=2,
            items=EVERYTHING,
            softening=Softening(share=share, hard_price=7000, soft_price=4000),
        ).per_kilogram
        for share in np.linspace(0, 1, 101)
    ]
    assert costs == sorted(costs)
    assert costs[0] < costs[-1]


def test_without_softening_all_fish_arrives_sound():
    assert sound_mass(80.5) == Fraction("80.5")
    assert sound_mass(80.5, softening=Softening(share=0)) == Fraction("80.5")


@pytest.mark.parametrize(
    ("total", "mass", "shown"), [(1000, 10, 100), (1001, 10, 101), (1, 80, 1), (0, 5, 0)]
)
def test_the_cost_of_a_kilogram_is_rounded_up(total, mass, shown):
    assert cost_per_sound_kilogram(total, sound_mass=mass) == shown


def test_every_line_that_can_arise_has_its_place():
    codes = [
        kind.code
        for kind in (*tariffs.Rule.__subclasses__(), tariffs.PerVolumetricKilogram, tariffs.Surcharge)
    ]
    assert {*codes, *CODES, "softening"} == set(ORDER)


@pytest.mark.parametrize("value", [float("nan"), float("inf"), 0, -1, 1e9, "ten", None])
def test_a_mass_out_of_range_is_refused_by_name_and_value(value):
    with pytest.raises(ValueError, match=f"mass must be .*, not '?{value}".replace("+", r"\+")):
        cost(mass=value, cartons=1, items=[FISH])
    with pytest.raises(ValueError, match="mass must be "):
        sound_mass(value)
    with pytest.raises(ValueError, match="sound_mass must be "):
        cost_per_sound_kilogram(100, sound_mass=value)


@pytest.mark.parametrize("cartons", [0, -1, 1.5, 10_001, None, True])
def test_a_count_of_cartons_out_of_range_is_refused(cartons):
    with pytest.raises(ValueError, match=f"cartons must be whole and 1 to 10000, not {cartons}"):
        cost(mass=80, cartons=cartons, items=[FISH])


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"code": "bribe"}, "code must be one of fish, .*, not 'bribe'"),
        ({"basis": "trip"}, "basis must be one of consignment, carton, kilogram, not 'trip'"),
        ({"rate": -1}, "rate must be whole and 0 to 1000000000000, not -1"),
        ({"rate": 1.5}, r"rate must be whole .*, not 1\.5"),
        ({"rate": 10**13}, "rate must be whole .*, not 10000000000000"),
        ({"quantity": -0.5}, r"quantity must be 0 to 1000000, not -0\.5"),
        ({"quantity": float("nan")}, "quantity must be a finite number, not nan"),
        ({"trips": 0}, "trips must be whole and 1 to 1000, not 0"),
        ({"loss_chance": 1.1}, r"loss_chance must be 0 to 1, not 1\.1"),
    ],
)
def test_an_item_out_of_range_is_refused_by_name_and_value(changes, message):
    with pytest.raises(ValueError, match=message):
        Item(**{"code": "levy", "basis": "carton", "rate": 1, **changes})


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"share": 1.01}, r"share must be 0 to 1, not 1\.01"),
        ({"share": float("nan")}, "share must be a finite number, not nan"),
        ({"drip_share": -0.1}, r"drip_share must be 0 to 1, not -0\.1"),
        ({"soft_price": 7001}, "soft_price must be at most 7000, not 7001"),
        ({"hard_price": 70.0}, r"hard_price must be whole .*, not 70\.0"),
        ({"soft_price": -1}, "soft_price must be whole .*, not -1"),
    ],
)
def test_a_softening_out_of_range_is_refused_by_name_and_value(changes, message):
    with pytest.raises(ValueError, match=message):
        Softening(**{"share": 0.1, "hard_price": 7000, "soft_price": 4000, **changes})
