"""A table as text: its lines with the cells of each column, or every fault of the file by line and column.

The format is RFC 4180 with a header. The separator is found by the header; what a spreadsheet adds (a mark of
the byte order, lines without any content) is taken off. The file is looked at whole before anything of it is
used, so a fault on the last line stops the first one, too.
"""

import csv
import re
from io import StringIO
from typing import NamedTuple

from coop.errors import Invalid, Problem, TooLarge

MOST_BYTES = 5 * 1024 * 1024
MOST_LINES = 20_000
MOST_SHOWN = 100
SEPARATORS = (",", ";")
RIGHT_QUOTES = 'one quotation mark at each end of a cell, and "" for one inside of it'
# A spreadsheet takes such a cell for a formula; an apostrophe stops that (common practice, no source).
FORMULA = re.compile(r"'*[=+\-@]")
ESCAPED = re.compile(r"'+[=+\-@]")


class Line(NamedTuple):
    """One line: its number in the file, the first being 1, and the text of each column."""

    number: int
    cells: dict


class Table(NamedTuple):
    separator: str
    lines: list

    @property
    def decimal(self):
        """The sign before decimals: where cells are parted by commas it is the point."""
        return "," if self.separator == ";" else "."


def at(line, column):
    """How a cell is named in a failure."""
    return f"line {line}, {column}"


def refused(problems):
    """All problems of a file in one failure: the first of them shown, all of them counted."""
    first, more = problems[0], len(problems) - 1
    rest = f" (and {more} more)" if more else ""
    return Invalid(f"{first.field}: {first.problem}{rest}.", *problems[:MOST_SHOWN])


def text_of(content):
    """The text of a file; raises a failure that says where its bytes are no text."""
    if len(content) > MOST_BYTES:
        raise TooLarge(f"This file is {len(content)} bytes long; right is at most {MOST_BYTES}.")
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as broken:
        line = content.count(b"\n", 0, broken.start) + 1
        byte = f"byte {content[broken.start]:02x}"
        raise refused([Problem(f"line {line}", byte, "is not UTF-8", "a file saved as UTF-8")]) from broken
    if "\0" in text:
        line = text.count("\n", 0, text.index("\0")) + 1
        raise refused([Problem(f"line {line}", "byte 00", "is no text", "a file saved as text")])
    return text


def records(text, separator):
    """(line, cells) of each line that says something; raises Invalid for a line that cannot be parted."""
    reader, line = csv.reader(StringIO(text, newline=""), delimiter=separator, strict=True), 0
    while True:
        first = line + 1
        try:
            cells = next(reader)
        except StopIteration:
            return
        except csv.Error as broken:
            raise refused(
                [Problem(f"line {first}", None, f"cannot be read: {broken}", RIGHT_QUOTES)]
            ) from broken
        line = reader.line_num
        if first > MOST_LINES:
            raise TooLarge(f"This file has more than {MOST_LINES} lines: send it in parts.")
        if any(cell.strip() for cell in cells):
            yield first, [cell.strip() for cell in cells]


def separator_of(text, names):
    """The sign by which the header falls into most names that are known."""
    header = next((line for line in text.splitlines() if line.strip()), "")

    def known(separator):
        return sum(cell.strip().strip('"').strip().lower() in names for cell in header.split(separator))

    return max(SEPARATORS, key=known)


def header_problems(line, header, names):
    found = []
    for name in dict.fromkeys(header):
        if name not in names:
            found.append(Problem(at(line, name), name, "is no column here", f"one of {', '.join(names)}"))
        elif header.count(name) > 1:
            found.append(Problem(at(line, name), name, "is there more than once", "each column once"))
    missing = [name for name in names if name not in header]
    found += [Problem(at(line, name), None, "this column is missing", ", ".join(names)) for name in missing]
    return found


def table_of(content, names):
    """The Table of a file that has just these columns, in any order; raises Invalid or TooLarge."""
    text = text_of(content)
    separator = separator_of(text, names)
    rows = records(text, separator)
    first, header = next(rows, (1, []))
    header = [name.lower() for name in header]
    problems = header_problems(first, header, names)
    if problems:
        raise refused(problems)
    lines = []
    for number, cells in rows:
        if len(cells) != len(header):
            right = f"{len(header)} cells, as in the header"
            problems.append(Problem(f"line {number}", f"{len(cells)} cells", "has another length", right))
        else:
            lines.append(Line(number, {name: plain(cell) for name, cell in zip(header, cells, strict=True)}))
    if problems:
        raise refused(problems)
    return Table(separator, lines)


def plain(cell):
    """A cell as it was before `guarded`."""
    return cell[1:] if ESCAPED.match(cell) else cell


def guarded(text):
    """A text as no spreadsheet takes it for a formula; `plain` gives it back."""
    return f"'{text}" if FORMULA.match(text) else text


def written(names, lines, separator=","):
    """The file of a header and of lines of texts, with the mark by which a spreadsheet knows UTF-8."""
    buffer = StringIO()
    writer = csv.writer(buffer, delimiter=separator, lineterminator="\r\n")
    writer.writerow(names)
    writer.writerows(lines)
    return buffer.getvalue().encode("utf-8-sig")
