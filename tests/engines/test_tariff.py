import dataclasses
from datetime import date, datetime
from fractions import Fraction

import pytest

from coop.engines.tariff import (
    ByStep,
    Consignment,
    PerCarton,
    PerKilogram,
    PerSeat,
    PerVolume,
    PerVolumetricKilogram,
    ReturnOfEmpty,
    Rule,
    Surcharge,
    Tariff,
    fare,
    volumetric_mass,
)

DAY = date(2026, 3, 10)


def consignment(**changes):
    given = {
        "gross_mass": 80,
        "cartons": 2,
        "outer_length": 0.3,
        "outer_width": 0.45,
        "outer_height": 0.65,
    }
    return Consignment(**{**given, **changes})


def tariff(*rules, **dates):
    return Tariff(rules=rules, **{"valid_from": date(2026, 1, 1), "confirmed_on": date(2026, 1, 5), **dates})


def lines(*rules, on=DAY, **changes):
    return fare(tariff(*rules), consignment=consignment(**changes), on=on)


def only(rule, **changes):
    (line,) = lines(rule, **changes)
    return line


def charged(rule, **changes):
    return only(rule, **changes).amount_minor


def test_a_carton_of_30_by_45_by_65_cm_counts_as_14_625_kg_and_is_charged_as_15():
    # Volumetric weight of the reference, §8: L·W·H / 6000 in cm.
    assert volumetric_mass((0.30, 0.45, 0.65)) == Fraction("14.625")
    line = only(PerVolumetricKilogram(amount=100), cartons=1, gross_mass=9)
    assert (line.quantity, line.unit, line.amount_minor) == (15, "kg_by_volume", 1500)


def test_a_heavier_carton_is_charged_by_the_scale_to_the_whole_kilogram_begun():
    line = only(PerVolumetricKilogram(amount=100), cartons=1, gross_mass=16.01)
    assert (line.quantity, line.unit, line.amount_minor) == (17, "kg", 1700)


def test_the_volume_of_several_cartons_is_rounded_once():
    assert only(PerVolumetricKilogram(amount=100), cartons=2, gross_mass=9).quantity == 30


def test_a_carrier_with_another_divisor_charges_by_it():
    line = only(PerVolumetricKilogram(amount=1, divisor=5000), cartons=1, gross_mass=1)
    assert line.quantity == 18


@pytest.mark.parametrize(
    ("rule", "quantity", "unit", "amount"),
    [
        (PerCarton(amount=5000), 2, "carton", 10_000),
        (PerKilogram(amount=250), 80, "kg", 20_000),
        (PerVolume(amount=40_000), Fraction("0.1755"), "m3", 7020),
        (PerSeat(amount=30_000, seats_per_carton=2), 4, "seat", 120_000),
        (ReturnOfEmpty(amount=3000), 2, "box", 6000),
        (ByStep(steps=((0, 9000), (50, 15_000))), 1, "step", 15_000),
        (ByStep(steps=((0, 300), (50, 260)), per_kilogram=True), 80, "kg", 20_800),
    ],
)
def test_each_rule_charges_for_its_own_quantity(rule, quantity, unit, amount):
    line = only(rule, empties=2)
    assert (line.quantity, line.unit, line.amount_minor) == (quantity, unit, amount)
    assert line.priced_on == date(2026, 1, 5)


@pytest.mark.parametrize(
    ("mass", "amount"), [(0.001, 900), (19.999, 900), (20, 1500), (20.001, 1500), (50, 2100), (5000, 2100)]
)
def test_a_step_holds_from_exactly_its_border_on(mass, amount):
    assert charged(ByStep(steps=((0, 900), (20, 1500), (50, 2100))), gross_mass=mass) == amount


def test_a_border_with_decimals_is_met_exactly():
    rule = ByStep(steps=((0, 1), (0.3, 2)))
    assert [charged(rule, gross_mass=mass) for mass in (0.29999, 0.3, 0.30001)] == [1, 2, 2]


@pytest.mark.parametrize(
    ("mass", "amount", "unit"), [(5, 2500, "kg_at_least"), (10, 2500, "kg"), (10.5, 2625, "kg")]
)
def test_a_light_consignment_pays_for_the_minimum_mass(mass, amount, unit):
    line = only(PerKilogram(amount=250, minimum_mass=10), gross_mass=mass)
    assert (line.amount_minor, line.unit) == (amount, unit)


@pytest.mark.parametrize(
    ("mass", "amount", "unit"), [(11.9, 3000, "minimum"), (12, 3000, "kg"), (12.1, 3025, "kg")]
)
def test_a_small_charge_becomes_the_minimum_charge(mass, amount, unit):
    line = only(PerKilogram(amount=250, minimum_charge=3000), gross_mass=mass)
    assert (line.amount_minor, line.unit) == (amount, unit)


@pytest.mark.parametrize(
    "rule",
    [
        PerCarton(amount=1, minimum_charge=777),
        PerVolume(amount=1, minimum_charge=777),
        PerSeat(amount=1, seats_per_carton=1, minimum_charge=777),
        ByStep(steps=((0, 1),), minimum_charge=777),
        PerVolumetricKilogram(amount=1, minimum_charge=777),
    ],
)
def test_every_rule_may_have_a_minimum(rule):
    assert charged(rule) == 777


def test_a_rule_without_anything_to_charge_for_has_no_line_not_even_its_minimum():
    assert lines(ReturnOfEmpty(amount=3000, minimum_charge=500), empties=0) == ()


def test_boxes_of_which_some_get_lost_come_back_on_average():
    assert charged(ReturnOfEmpty(amount=3000), empties=Fraction("1.9")) == 5700


def test_several_rules_of_one_carrier_add_up():
    found = lines(PerCarton(amount=5000), PerKilogram(amount=250), PerKilogram(amount=5))
    assert [line.amount_minor for line in found] == [10_000, 20_000, 400]


@pytest.mark.parametrize("month", range(1, 13))
def test_a_surcharge_counts_in_its_months_and_in_no_other(month):
    found = lines(PerCarton(amount=5000), Surcharge(share=0.15, months=(11, 12, 1)), on=date(2026, month, 28))
    on_top = [line.amount_minor for line in found if line.code == "fare_surcharge"]
    assert on_top == ([1500] if month in (11, 12, 1) else [])


def test_a_surcharge_without_months_counts_all_year():
    assert [
        len(lines(PerCarton(amount=5000), Surcharge(share=0.15), on=date(2026, m, 1))) for m in (1, 7)
    ] == [
        2,
        2,
    ]


def test_surcharges_are_shares_of_the_plain_rules_and_do_not_compound_wherever_they_stand():
    rules = [Surcharge(share=0.1), PerCarton(amount=5000), Surcharge(share=0.2), PerKilogram(amount=50)]
    assert [(line.code, line.amount_minor) for line in lines(*rules)] == [
        ("fare_per_carton", 10_000),
        ("fare_per_kilogram", 4000),
        ("fare_surcharge", 1400),
        ("fare_surcharge", 2800),
    ]


def test_a_discount_is_a_surcharge_below_nought():
    assert [line.amount_minor for line in lines(PerCarton(amount=5000), Surcharge(share=-0.25))] == [
        10_000,
        -2500,
    ]


@pytest.mark.parametrize(
    ("on", "counts"),
    [
        (date(2025, 12, 31), False),
        (date(2026, 1, 1), True),
        (date(2026, 6, 30), True),
        (date(2026, 7, 1), False),
        (date(2027, 1, 1), False),
    ],
)
def test_a_tariff_counts_from_its_first_day_until_before_its_end(on, counts):
    dated = tariff(PerCarton(amount=5000), valid_until=date(2026, 7, 1))
    if counts:
        assert fare(dated, consignment=consignment(), on=on)
        return
    with pytest.raises(ValueError, match=f"on must lie from 2026-01-01 until before 2026-07-01, not {on}"):
        fare(dated, consignment=consignment(), on=on)


def test_a_tariff_without_an_end_counts_for_ever():
    assert lines(PerCarton(amount=5000), on=date(2999, 1, 1))


@pytest.mark.parametrize("on", [datetime(2026, 3, 1, 8), "2026-03-01", None])
def test_an_hour_or_a_text_is_no_day(on):
    with pytest.raises(ValueError, match="on must be a day, not "):
        lines(PerCarton(amount=5000), on=on)


def test_a_tariff_that_ends_before_it_begins_or_has_no_plain_rule_is_refused():
    with pytest.raises(ValueError, match="valid_until must be after 2026-01-01, not 2026-01-01"):
        tariff(PerCarton(amount=1), valid_until=date(2026, 1, 1))
    with pytest.raises(ValueError, match="rules must hold one that is no share on top"):
        tariff(Surcharge(share=0.1))


@pytest.mark.parametrize(
    ("steps", "message"),
    [
        ((), "steps must begin at 0 kg, not at none"),
        (((5, 100),), r"steps must begin at 0 kg, not at 5\.0"),
        (((0, 100), (20, 200), (20, 300)), r"steps must rise, not \[0\.0, 20\.0, 20\.0\]"),
        (((0, 100), (float("nan"), 200)), "from_mass must be a finite number, not nan"),
        (((0, 100), (20, -200)), "amount must be whole and 0 to 1000000000000, not -200"),
        (((0, 100), (20, 200.0)), r"amount must be whole .*, not 200\.0"),
    ],
)
def test_steps_out_of_order_or_range_are_refused(steps, message):
    with pytest.raises(ValueError, match=message):
        ByStep(steps=steps)


@pytest.mark.parametrize("value", [float("nan"), float("inf"), 0, -1, 1e9, "ten", None])
@pytest.mark.parametrize("name", ["gross_mass", "outer_length", "outer_width", "outer_height", "cartons"])
def test_a_consignment_out_of_range_is_refused_by_name_and_value(name, value):
    with pytest.raises(ValueError, match=f"{name} must be .*, not "):
        consignment(**{name: value})


@pytest.mark.parametrize("empties", [-1, 2.1, float("nan")])
def test_more_empties_than_cartons_are_refused(empties):
    with pytest.raises(ValueError, match=f"empties must be .*, not {empties}"):
        consignment(empties=empties)


@pytest.mark.parametrize("amount", [-1, 2.5, float("nan"), 10**13, True, None])
@pytest.mark.parametrize("name", ["amount", "minimum_charge"])
def test_an_amount_that_is_no_money_is_refused_by_name_and_value(name, amount):
    with pytest.raises(ValueError, match=f"{name} must be whole and 0 to 1000000000000, not {amount}"):
        PerKilogram(**{"amount": 1, name: amount})


@pytest.mark.parametrize(
    ("make", "message"),
    [
        (lambda: PerKilogram(amount=1, minimum_mass=-1), "minimum_mass must be 0 to 100000, not -1"),
        (lambda: PerVolumetricKilogram(amount=1, divisor=0), "divisor must be 1000 to 20000, not 0"),
        (lambda: PerSeat(amount=1, seats_per_carton=0), "seats_per_carton must be whole and 1 to 20, not 0"),
        (lambda: PerSeat(amount=1, seats_per_carton=1.5), r"seats_per_carton must be whole .*, not 1\.5"),
        (lambda: Surcharge(share=float("nan")), "share must be a finite number, not nan"),
        (lambda: Surcharge(share=-1.5), r"share must be -1 to 10, not -1\.5"),
        (lambda: Surcharge(share=0.1, months=(13,)), "months must be whole and 1 to 12, not 13"),
        (lambda: volumetric_mass((0.3, 0.4, 0)), "sides must be positive, not 0"),
        (lambda: volumetric_mass((0.3, 0.4, 0.5), divisor=-6000), "divisor must be .*, not -6000"),
    ],
)
def test_a_rule_out_of_range_is_refused_by_name_and_value(make, message):
    with pytest.raises(ValueError, match=message):
        make()


def test_rules_cannot_be_changed_afterwards():
    with pytest.raises(dataclasses.FrozenInstanceError):
        PerCarton(amount=5).amount = 4


def test_every_kind_of_rule_has_a_code_of_its_own():
    kinds = [
        PerCarton,
        PerKilogram,
        PerVolume,
        PerVolumetricKilogram,
        PerSeat,
        ReturnOfEmpty,
        ByStep,
        Surcharge,
    ]
    assert len({kind.code for kind in kinds}) == len(kinds)
    assert set(Rule.__subclasses__()) <= set(kinds)
