"""Columns of each file that goes in and out, in the currency of a cooperative, and what takes it in."""

from typing import NamedTuple

from api.csv_columns import Amount, Choice, Column, Day, Hour, Months, Number, Whole, YesNo
from api.members import ROLES
from coop.services.imports_members import MEMBERS
from coop.services.imports_subjects import CHARGES, FARES, FISH_PRICES, MATERIAL_PRICES, TIMETABLES

RULE_KINDS = (
    "per_carton",
    "per_kilogram",
    "by_step",
    "per_volume",
    "per_volumetric_kilogram",
    "per_seat",
    "return_of_empty",
    "surcharge",
)
CHARGE_KINDS = ("handling", "levy", "papers", "receiver", "freezing_energy")
CHARGE_BASES = ("consignment", "carton", "kilogram")
WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
DAYS = (Day("valid_from"), Day("valid_until", may_be_empty=True))


class Subject(NamedTuple):
    """`columns` makes the columns of one cooperative; `takes` is how its service knows the subject."""

    columns: object
    takes: object


def amount(name, cooperative, *, per="", **options):
    """A column of money: its header names the currency, its value is in minor units."""
    header = f"{name}_{cooperative.currency.lower()}{per}"
    return Amount(header, key=f"{name}_minor{per}", decimals=cooperative.currency_decimals, **options)


def fares(cooperative):
    return (
        Column("carrier"),
        Column("route"),
        *DAYS,
        Whole("rule"),
        Choice("kind", words=RULE_KINDS),
        amount("amount", cooperative, may_be_empty=True, empty=0),
        Number("from_kg", may_be_empty=True),
        amount("minimum", cooperative, may_be_empty=True, empty=0),
        Number("minimum_kg", may_be_empty=True, empty=0.0),
        Whole("seats_per_carton", may_be_empty=True),
        YesNo("steps_per_kilogram", may_be_empty=True, empty=False),
        Number("volumetric_divisor_cm3_per_kg", may_be_empty=True),
        Number("surcharge_share", may_be_empty=True),
        Months("months"),
    )


def fish_prices(cooperative):
    prices = (amount(name, cooperative, per="_per_kg") for name in ("bought", "sold", "soft"))
    return (Column("species"), *DAYS, *prices)


def material_prices(cooperative):
    return (Column("material"), *DAYS, amount("amount", cooperative))


def charges(cooperative):
    return (
        Choice("kind", words=CHARGE_KINDS),
        Column("name"),
        Column("route", may_be_empty=True),
        Column("buyer", may_be_empty=True),
        *DAYS,
        Choice("basis", words=CHARGE_BASES),
        amount("amount", cooperative),
    )


def members(_cooperative):
    return (
        Column("name"),
        Column("phone", may_be_empty=True, empty=""),
        Choice("role", words=ROLES),
        Day("joined_on", may_be_empty=True),
        Day("left_on", may_be_empty=True),
    )


def timetables(_cooperative):
    return (
        Column("carrier"),
        Column("route"),
        Hour("departs_at_local"),
        *DAYS,
        *(YesNo(name) for name in WEEKDAYS),
        YesNo("leaves_when_full"),
        Number("delay_hours_mean"),
        Number("delay_hours_cv"),
        Whole("seats_left", may_be_empty=True),
        Number("riders_per_hour", may_be_empty=True),
    )


SUBJECTS = {
    "charges": Subject(charges, CHARGES),
    "fares": Subject(fares, FARES),
    "fish_prices": Subject(fish_prices, FISH_PRICES),
    "material_prices": Subject(material_prices, MATERIAL_PRICES),
    "members": Subject(members, MEMBERS),
    "timetables": Subject(timetables, TIMETABLES),
}
