"""Cells and values. Decimals of currencies by ISO 4217: ZMW 2, XOF 0; dates and hours by ISO 8601."""

from datetime import date, time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from api.csv_columns import (
    Amount,
    Choice,
    Column,
    Day,
    Hour,
    Months,
    Number,
    Unfit,
    Whole,
    YesNo,
    cells_of,
    values_of,
)
from api.csv_rows import table_of
from coop.errors import Invalid

ZMW, XOF = Amount("amount_zmw"), Amount("amount_xof", decimals=0)


@pytest.mark.parametrize(
    ("cell", "decimal", "minor"),
    [("12.50", ".", 1250), ("12,50", ",", 1250), ("12.5", ",", 1250), ("12,5", ".", 1250), ("7", ".", 700)],
)
def test_money_has_a_point_or_a_comma(cell, decimal, minor):
    assert ZMW.read(cell, decimal) == minor


@pytest.mark.parametrize(("cell", "decimal"), [("1.500", ","), ("1,500", "."), ("12.345", ",")])
def test_what_could_part_thousands_is_refused(cell, decimal):
    with pytest.raises(Unfit, match="could mean two numbers"):
        Number("n").read(cell, decimal)


@pytest.mark.parametrize(
    ("cell", "decimal", "value"), [("1.500", ".", 1.5), ("1,500", ",", 1.5), ("1500.125", ",", 1500.125)]
)
def test_what_can_mean_one_number_is_that(cell, decimal, value):
    assert Number("n").read(cell, decimal) == value


@pytest.mark.parametrize(
    "cell", ["1.234,50", "1,234.50", "1 234", "1e3", "NaN", "inf", "--1", ".5", "5.", "٥", "x"]
)
def test_what_is_no_number_is_refused(cell):
    with pytest.raises(Unfit):
        Number("n").read(cell, ".")


def test_a_currency_has_its_own_decimals():
    assert XOF.read("1500", ".") == 1500
    with pytest.raises(Unfit, match="more decimals"):
        XOF.read("15.5", ".")
    with pytest.raises(Unfit, match="more decimals"):
        ZMW.read("1.005", ".")
    with pytest.raises(Unfit, match="below nothing"):
        ZMW.read("-1", ".")
    assert (ZMW.text(5, "."), XOF.text(5, ","), ZMW.text(123_456, ",")) == ("0.05", "5", "1234,56")


@pytest.mark.parametrize(
    ("column", "cell", "value"),
    [
        (Day("d"), "2026-03-02", date(2026, 3, 2)),
        (Hour("h"), "6:05", time(6, 5)),
        (Hour("h"), "16:00:30", time(16, 0, 30)),
        (YesNo("y"), "Yes", True),
        (YesNo("y"), "0", False),
        (Whole("w"), "12", 12),
        (Months("m"), "11 12 1", (11, 12, 1)),
        (Months("m"), "", ()),
        (Choice("c", words=("a", "b")), "b", "b"),
        (Column("t"), "Café", "Café"),
        (Column("t", may_be_empty=True), "", None),
        (Column("t", may_be_empty=True, empty=""), "", ""),
    ],
)
def test_a_cell_is_read(column, cell, value):
    assert column.read(cell, ".") == value


@pytest.mark.parametrize(
    ("column", "cell"),
    [
        (Day("d"), "02/03/2026"),
        (Day("d"), "2026-02-30"),
        (Day("d"), "20260302"),
        (Hour("h"), "24:00"),
        (Hour("h"), "16h00"),
        (YesNo("y"), "maybe"),
        (Whole("w"), "12.0"),
        (Months("m"), "13"),
        (Months("m"), "1 1"),
        (Choice("c", words=("a",)), "A"),
        (Column("t"), "two\nlines"),
        (Column("t"), ""),
        (Column("t", most=3), "long"),
    ],
)
def test_a_cell_that_does_not_fit_says_what_would_be_right(column, cell):
    with pytest.raises(Unfit) as unfit:
        column.read(cell, ".")
    problem, right = unfit.value.args
    assert problem
    assert right


@given(st.floats(0, 1e9, allow_subnormal=False), st.sampled_from(".,"))
def test_a_number_comes_back_to_the_last_bit(value, decimal):
    cell = Number("n").text(value, decimal)
    assert {",": ".", ".": ","}[decimal] not in cell
    assert Number("n").read(cell, decimal) == value


@given(st.integers(0, 10**12), st.sampled_from(".,"), st.integers(0, 4))
def test_money_comes_back_to_the_coin(minor, decimal, decimals):
    column = Amount("a", decimals=decimals)
    assert column.read(column.text(minor, decimal), decimal) == minor


def test_every_cell_that_does_not_fit_is_named_by_line_and_column():
    columns = (Column("name"), Amount("price_zmw", key="price_minor"))
    table = table_of(b"name,price_zmw\nAnna,5\n,x\nZoe,1.005\n", ["name", "price_zmw"])
    with pytest.raises(Invalid) as refusal:
        values_of(table, columns)
    found = [(one.field, one.value) for one in refusal.value.problems]
    assert found == [("line 3, name", None), ("line 3, price_zmw", "x"), ("line 4, price_zmw", "1.005")]


def test_values_go_by_their_key_and_back():
    columns = (Column("name"), Amount("price_zmw", key="price_minor"))
    table = table_of(b"name;price_zmw\n'+26097;12,50\n", ["name", "price_zmw"])
    ((line, values),) = values_of(table, columns)
    assert (line, values) == (2, {"name": "+26097", "price_minor": 1250})
    assert cells_of(values, columns, ";") == ["'+26097", "12,50"]
