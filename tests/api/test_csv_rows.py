"""Tables as text, held against RFC 4180; what a spreadsheet adds and takes is common practice."""

import csv
from io import StringIO

import pytest
from hypothesis import given
from hypothesis import strategies as st

from api import csv_rows
from api.csv_rows import MOST_SHOWN, guarded, plain, table_of, written
from coop.errors import Invalid, TooLarge

NAMES = ["name", "amount"]


def cells(content):
    return [(line.number, *line.cells.values()) for line in table_of(content, NAMES).lines]


def refused(content):
    with pytest.raises(Invalid) as refusal:
        table_of(content, NAMES)
    return refusal.value


@pytest.mark.parametrize("mark", ["", "\ufeff"])
@pytest.mark.parametrize("separator", [",", ";"])
@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_marks_separators_and_ends_of_lines_change_nothing(mark, separator, end):
    lines = ["name,amount", "Café,5", "Zoë,7"]
    content = (mark + end.join(lines).replace(",", separator)).encode()
    assert cells(content) == [(2, "Café", "5"), (3, "Zoë", "7")]
    assert table_of(content, NAMES).decimal == ("." if separator == "," else ",")


def test_quotation_marks_are_those_of_the_standard():
    """RFC 4180, 2: commas, line breaks and doubled quotation marks inside of a quoted cell."""
    content = b'name,amount\r\n"Lake, shore ""A""",1\r\n"two\r\nlines",2\r\nlast,3\r\n'
    assert cells(content) == [(2, 'Lake, shore "A"', "1"), (3, "two\r\nlines", "2"), (5, "last", "3")]


def test_columns_come_in_any_order_and_in_any_case():
    (line,) = table_of(b" Amount ,NAME\n5,Anna\n", NAMES).lines
    assert line.cells == {"amount": "5", "name": "Anna"}


def test_lines_without_content_are_left_out_and_still_counted():
    assert cells(b"\nname,amount\n,,\n \n\nAnna,5\n") == [(6, "Anna", "5")]


def test_a_header_alone_is_a_table_without_lines():
    assert cells(b"name,amount") == []


@pytest.mark.parametrize(
    ("content", "field", "words"),
    [
        (b"", "line 1, name", "missing"),
        (b"name\nAnna\n", "line 1, amount", "missing"),
        (b"name,amount,colour\n", "line 1, colour", "no column here"),
        (b"name,amount,name\n", "line 1, name", "more than once"),
        (b"name,amount\nAnna\n", "line 2", "another length"),
        (b"name,amount\nAnna,5,6\n", "line 2", "another length"),
        (b"name,amount\nAn\x00na,5\n", "line 2", "no text"),
        (b"name,amount\nAnna,5\nZo\xeb,7\n", "line 3", "not UTF-8"),
        (b'name,amount\nAnna,5\n"Zoe,7\n', "line 3", "cannot be read"),
        (b'name,amount\n"Zoe"y,7\n', "line 2", "cannot be read"),
        ("name,amount\n".encode("utf-16"), "line 1", "not UTF-8"),
    ],
)
def test_what_is_no_table_is_told_by_its_line(content, field, words):
    refusal = refused(content)
    assert refusal.problems[0].field == field
    assert words in refusal.problems[0].problem


def test_all_faults_are_counted_and_a_hundred_are_shown():
    refusal = refused(b"name,amount\n" + b"one\n" * 150)
    assert len(refusal.problems) == MOST_SHOWN == 100
    assert refusal.message == "line 2: has another length (and 149 more)."


def test_a_file_that_is_too_long_is_refused(monkeypatch):
    with pytest.raises(TooLarge):
        table_of(b"name,amount\n" + b"a,b\n" * 20_000, NAMES)
    monkeypatch.setattr(csv_rows, "MOST_BYTES", 10)
    with pytest.raises(TooLarge):
        table_of(b"name,amount\n", NAMES)


@pytest.mark.parametrize("sign", "=+-@")
def test_what_a_spreadsheet_takes_for_a_formula_is_guarded_and_comes_back(sign):
    assert guarded(f"{sign}1+1") == f"'{sign}1+1"
    assert cells(f"name,amount\n'{sign}1+1,5\n".encode()) == [(2, f"{sign}1+1", "5")]


@given(st.text())
def test_a_guarded_text_comes_back_and_is_no_formula(text):
    assert plain(guarded(text)) == text
    assert guarded(text)[:1] not in tuple("=+-@")


printed = st.text(st.characters(exclude_categories=("Cs", "Cc")), min_size=1).map(str.strip).filter(bool)


@given(st.lists(st.tuples(printed, printed), max_size=5), st.sampled_from(",;"))
def test_what_is_written_reads_in_again(lines, separator):
    texts = [[guarded(cell) for cell in line] for line in lines]
    found = table_of(written(NAMES, texts, separator), NAMES)
    assert [tuple(line.cells.values()) for line in found.lines] == lines
    # The standard library reads the same.
    text = written(NAMES, texts, separator).decode("utf-8-sig")
    assert list(csv.reader(StringIO(text, newline=""), delimiter=separator))[1:] == texts


@given(st.binary(max_size=200))
def test_any_bytes_are_a_table_or_a_clear_refusal(content):
    told = failure_of(b"name,amount\n" + content)
    assert told is None or (told.problems[0].field.startswith("line ") and told.problems[0].right)


def failure_of(content):
    try:
        return table_of(content, NAMES) and None
    except Invalid as refusal:
        return refusal
