"""Columns of a table: how the text of a cell becomes a value, and a value the text of a cell.

A number has a decimal point where cells are parted by commas, and a comma where semicolons part them. The
other sign is understood, too, unless it could part thousands: 1.500 beside decimal commas may be both.
"""

import re
from dataclasses import dataclass, field
from datetime import date, time
from decimal import Decimal
from fractions import Fraction

from api.csv_rows import at, guarded, refused
from coop.errors import Problem

# As long as the longest number of a column: the smallest has three hundred digits after its point.
NUMBER = re.compile(r"-?[0-9]{1,15}(?:[.,][0-9]{1,340})?")
CONTROL = re.compile(r"[\x00-\x1f\x7f\x85\u2028\u2029]")
YES = {"yes": True, "no": False, "1": True, "0": False, "true": True, "false": False}
HOUR = re.compile(r"([0-9]{1,2}):([0-9]{2})(?::([0-9]{2}))?")


class Unfit(Exception):
    """What is wrong with a cell, and what would be right."""


@dataclass(frozen=True)
class Column:
    """A text. With `may_be_empty` an empty cell is None, or what `empty` says; `key` names its value."""

    name: str
    key: str = ""
    may_be_empty: bool = False
    empty: object = None
    most: int = 160

    right = "a text"

    def __post_init__(self):
        object.__setattr__(self, "key", self.key or self.name)

    def read(self, cell, decimal):
        if cell:
            return self.value(cell, decimal)
        if not self.may_be_empty:
            raise Unfit("is empty", self.right)
        return self.empty

    def write(self, value, decimal):
        return "" if value is None else self.text(value, decimal)

    def value(self, cell, _decimal):
        if CONTROL.search(cell):
            raise Unfit("has a line break or another sign that is not printed", self.right)
        if len(cell) > self.most:
            raise Unfit("is too long", f"at most {self.most} letters")
        return cell

    def text(self, value, _decimal):
        return guarded(str(value))


@dataclass(frozen=True)
class Choice(Column):
    words: tuple = ()

    @property
    def right(self):
        return f"one of {', '.join(self.words)}"

    def value(self, cell, _decimal):
        if cell not in self.words:
            raise Unfit("is no word for it", self.right)
        return cell


class YesNo(Column):
    right = "yes or no"

    def value(self, cell, _decimal):
        if cell.lower() not in YES:
            raise Unfit("is neither yes nor no", self.right)
        return YES[cell.lower()]

    def text(self, value, _decimal):
        return "yes" if value else "no"


def number_of(cell, decimal):
    """The Decimal that a cell means, or Unfit."""
    if not NUMBER.fullmatch(cell):
        raise Unfit("is no number", f"a number such as 12{decimal}5, without a sign between thousands")
    other = "," if decimal == "." else "."
    whole, sign, decimals = cell.partition(other)
    if sign and len(decimals) == 3 and len(whole.lstrip("-")) <= 3:
        raise Unfit("could mean two numbers", f"{whole}{decimal}{decimals} or {whole}{decimals}")
    return Decimal(cell.replace(",", "."))


def digits(number, decimal):
    """A finite number in plain digits, as short as it comes back the same."""
    text = format(Decimal(repr(number)) if isinstance(number, float) else Decimal(number), "f")
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return text.replace(".", decimal)


@dataclass(frozen=True)
class Number(Column):
    right = "a number"

    def value(self, cell, decimal):
        return float(number_of(cell, decimal))

    def text(self, value, decimal):
        return digits(value, decimal)


class Whole(Number):
    right = "a whole number"

    def value(self, cell, _decimal):
        if not re.fullmatch(r"-?[0-9]{1,9}", cell):
            raise Unfit("is no whole number", self.right)
        return int(cell)


@dataclass(frozen=True)
class Amount(Column):
    """Money in the unit of its currency; the value is in minor units."""

    decimals: int = 2

    @property
    def right(self):
        return f"an amount with at most {self.decimals} decimals"

    def value(self, cell, decimal):
        minor = Fraction(number_of(cell, decimal)) * 10**self.decimals
        if minor.denominator != 1:
            raise Unfit("has more decimals than its currency", self.right)
        if minor < 0:
            raise Unfit("is below nothing", self.right)
        return int(minor)

    def text(self, value, decimal):
        return format(Decimal(value).scaleb(-self.decimals), f".{self.decimals}f").replace(".", decimal)


class Day(Column):
    right = "a date such as 2026-03-02"

    def value(self, cell, _decimal):
        if not re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", cell):
            raise Unfit("is no date", self.right)
        try:
            return date.fromisoformat(cell)
        except ValueError as none_such:
            raise Unfit("is no day of the calendar", self.right) from none_such

    def text(self, value, _decimal):
        return value.isoformat()


class Hour(Column):
    right = "an hour such as 16:00"

    def value(self, cell, _decimal):
        found = HOUR.fullmatch(cell)
        hour, minute, second = map(int, found.groups(default="0")) if found else (24, 0, 0)
        if hour > 23 or minute > 59 or second > 59:
            raise Unfit("is no hour of a day", self.right)
        return time(hour, minute, second)

    def text(self, value, _decimal):
        return value.isoformat("seconds" if value.second else "minutes")


@dataclass(frozen=True)
class Months(Column):
    """Months in which something counts, 1 to 12; an empty cell is a list without any."""

    may_be_empty: bool = True
    empty: tuple = field(default=())
    right = "months 1 to 12 with spaces between them, such as 11 12 1"

    def value(self, cell, _decimal):
        words = cell.split()
        known = all(re.fullmatch(r"[1-9]|1[0-2]", word) for word in words)
        if not known or len(set(words)) < len(words):
            raise Unfit("names no months", self.right)
        return tuple(int(word) for word in words)

    def text(self, value, _decimal):
        return " ".join(map(str, value))


def values_of(table, columns):
    """[(line, values by column)] of a Table; raises Invalid with every cell that its column refuses."""
    rows, problems = [], []
    for line in table.lines:
        values = {}
        for column in columns:
            cell = line.cells[column.name]
            try:
                values[column.key] = column.read(cell, table.decimal)
            except Unfit as unfit:
                problem, right = unfit.args
                problems.append(Problem(at(line.number, column.name), cell or None, problem, right))
        rows.append((line.number, values))
    if problems:
        raise refused(problems)
    return rows


def cells_of(values, columns, separator):
    """The texts of one line."""
    decimal = "," if separator == ";" else "."
    return [column.write(values[column.key], decimal) for column in columns]
