"""Kinds of fields of the GTFS Schedule reference: the text of a cell becomes a value, or Unfit."""

import re
from datetime import date
from functools import lru_cache
from zoneinfo import available_timezones

from api.csv_columns import Unfit

TIME = re.compile(r"([0-9]{1,5}):([0-5][0-9]):([0-5][0-9])")
WHOLE = re.compile(r"[0-9]{1,9}")
DEGREES = re.compile(r"-?[0-9]{1,3}(\.[0-9]{1,20})?")
URL = re.compile(r"https?://[^\s/]+\S*", re.IGNORECASE)
# Kinds of vehicle of the reference, and the finer ones that many feeds have (common practice, no source).
ROUTE_TYPES = {*range(8), 11, 12, *range(100, 1800)}


def text(cell):
    if not cell.isprintable():
        raise Unfit("has a tab, a line break or another sign that is not printed", "a text on one line")
    return cell


@lru_cache(maxsize=200_000)
def clock(cell):
    """Seconds since the service day began, which may be more than those of a day."""
    found = TIME.fullmatch(cell)
    if not found:
        raise Unfit("is no time", "a time such as 16:00:00, or 25:30:00 after midnight")
    hours, minutes, seconds = map(int, found.groups())
    return hours * 3600 + minutes * 60 + seconds


@lru_cache(maxsize=100_000)
def day(cell):
    try:
        if not re.fullmatch(r"[0-9]{8}", cell):
            raise ValueError
        return date(int(cell[:4]), int(cell[4:6]), int(cell[6:]))
    except ValueError:
        raise Unfit("is no date", "a date such as 20260302") from None


def whole(cell):
    if not WHOLE.fullmatch(cell):
        raise Unfit("is no whole number", "a whole number from 0 up")
    return int(cell)


def positive(cell):
    if not WHOLE.fullmatch(cell) or int(cell) == 0:
        raise Unfit("is no whole number above 0", "a whole number from 1 up")
    return int(cell)


def number(cell):
    """A number of our own file; the reference has no such field."""
    if not re.fullmatch(r"[0-9]{1,15}(\.[0-9]{1,340})?", cell):
        raise Unfit("is no number", "a number such as 0.5")
    return float(cell)


def word(*choices):
    """One of some numbers that stand for words."""

    def read(cell):
        if cell not in choices:
            raise Unfit("is none of its numbers", f"one of {', '.join(choices)}")
        return int(cell)

    return read


def degrees(most):
    def read(cell):
        if not DEGREES.fullmatch(cell) or abs(float(cell)) > most:
            raise Unfit("is no such place", f"degrees from -{most} to {most}")
        return float(cell)

    return read


def route_type(cell):
    if whole(cell) not in ROUTE_TYPES:
        raise Unfit("is no kind of vehicle", "a number such as 3 for a bus")
    return int(cell)


def url(cell):
    if not URL.fullmatch(cell):
        raise Unfit("is no address", "an address such as https://example.org")
    return cell


def zone(cell):
    if cell not in available_zones():
        raise Unfit("is no time zone", "a time zone such as Africa/Lusaka")
    return cell


@lru_cache(maxsize=1)
def available_zones():
    return available_timezones()
