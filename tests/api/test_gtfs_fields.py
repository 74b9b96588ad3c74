"""Kinds of fields of the GTFS Schedule reference, from memory; time zones are those of IANA."""

from datetime import date

import pytest

from api import gtfs_fields as kinds
from api.csv_columns import Unfit


@pytest.mark.parametrize(
    ("read", "cell", "value"),
    [
        (kinds.clock, "08:30:00", 30_600),
        (kinds.clock, "8:30:00", 30_600),
        (kinds.clock, "25:30:00", 91_800),
        (kinds.day, "20260302", date(2026, 3, 2)),
        (kinds.whole, "0", 0),
        (kinds.positive, "600", 600),
        (kinds.degrees(90), "-8.76", -8.76),
        (kinds.word("0", "1"), "1", 1),
        (kinds.route_type, "3", 3),
        (kinds.route_type, "12", 12),
        (kinds.url, "https://example.org", "https://example.org"),
        (kinds.zone, "Africa/Lusaka", "Africa/Lusaka"),
        (kinds.number, "0.5", 0.5),
        (kinds.text, "Café", "Café"),
    ],
)
def test_a_cell_is_read(read, cell, value):
    assert read(cell) == value


@pytest.mark.parametrize(
    ("read", "cell"),
    [
        (kinds.clock, "8:30"),
        (kinds.clock, "08:60:00"),
        (kinds.clock, "-1:00:00"),
        (kinds.day, "2026-03-02"),
        (kinds.day, "20260230"),
        (kinds.whole, "-1"),
        (kinds.whole, "1.0"),
        (kinds.whole, "٣"),
        (kinds.positive, "0"),
        (kinds.degrees(90), "90.1"),
        (kinds.degrees(180), "east"),
        (kinds.word("0", "1"), "2"),
        (kinds.route_type, "8"),
        (kinds.url, "example.org"),
        (kinds.zone, "CAT+2"),
        (kinds.number, "-1"),
        (kinds.text, "two\nlines"),
    ],
)
def test_a_cell_that_does_not_fit_says_what_would_be_right(read, cell):
    with pytest.raises(Unfit) as unfit:
        read(cell)
    assert all(unfit.value.args)
