"""The zip of a GTFS feed: what is in it is refused before it is unpacked, and unpacked line by line."""

import csv
import zlib
from io import BytesIO, TextIOWrapper
from zipfile import ZIP_DEFLATED, ZIP_STORED, BadZipFile, ZipFile

from coop.errors import Problem, TooLarge, invalid

MOST_BYTES = 30 * 1024 * 1024
MOST_UNPACKED = 300 * 1024 * 1024
MOST_FILES = 100
MOST_SHOWN = 100
LONGEST_LINE = 100_000
RIGHT_FEED = "a zip of text files, all at its top, as the GTFS Schedule reference has them"
RIGHT_LINE = "a line of UTF-8 text, cells parted by commas, quotation marks at both ends of a cell or nowhere"
# What the library raises for bytes that are no zip, or for one that is made in a way that it does not know.
BROKEN = (BadZipFile, zlib.error, EOFError, OSError, ValueError, RuntimeError)


class Faults:
    """What is wrong with a feed, by file and line: the first hundred are kept, all are counted."""

    def __init__(self):
        self.shown, self.count = [], 0

    def add(self, where, value, problem, right):
        self.count += 1
        if len(self.shown) < MOST_SHOWN:
            self.shown.append(Problem(where, value, problem, right))


def opened(content):
    """The ZipFile of a feed; raises TooLarge or Invalid for one that nobody would make."""
    if len(content) > MOST_BYTES:
        raise TooLarge(f"This feed is {len(content)} bytes long; right is at most {MOST_BYTES}.")
    try:
        feed = ZipFile(BytesIO(content))
    except BROKEN as broken:
        raise invalid("feed", None, "is no zip", RIGHT_FEED) from broken
    require_sensible(feed.infolist())
    return feed


def require_sensible(members):
    names = [member.filename for member in members]
    if len(names) > MOST_FILES or len(set(names)) < len(names):
        raise invalid("feed", f"{len(names)} files", "has too many files, or one twice", RIGHT_FEED)
    for member in members:
        name = member.filename
        if "/" in name or "\\" in name or name.startswith(".") or not name.isprintable():
            raise invalid("feed", name, "names a folder or a path", RIGHT_FEED)
        if member.flag_bits & 1 or member.compress_type not in (ZIP_STORED, ZIP_DEFLATED):
            raise invalid("feed", name, "is locked, or packed in another way", "a plain zip")
    unpacked = sum(member.file_size for member in members)
    if unpacked > MOST_UNPACKED:
        raise TooLarge(f"This feed is {unpacked} bytes long unpacked; right is at most {MOST_UNPACKED}.")


def lines_of(feed, name):
    """Text lines of one file, unpacked as they are read."""
    try:
        packed = feed.open(name)
    except BROKEN as broken:
        raise invalid(name, None, "cannot be unpacked", RIGHT_FEED) from broken
    with packed, TextIOWrapper(packed, encoding="utf-8-sig", newline="") as text:
        number = 1
        while line := next_line(text, name, number):
            yield line
            number += 1


def next_line(text, name, number):
    try:
        line = text.readline(LONGEST_LINE)
    except UnicodeDecodeError as broken:
        raise invalid(f"{name} line {number}", None, "is not UTF-8", RIGHT_LINE) from broken
    except BROKEN as broken:
        raise invalid(f"{name} line {number}", None, "cannot be unpacked", RIGHT_FEED) from broken
    if "\0" in line or len(line) >= LONGEST_LINE:
        raise invalid(f"{name} line {number}", None, "is no text", RIGHT_LINE)
    return line


def records(feed, name):
    """(line, cells) of one file, its header first; empty lines are left out."""
    reader, line = csv.reader(lines_of(feed, name), strict=True), 0
    while True:
        first = line + 1
        try:
            cells = next(reader)
        except StopIteration:
            return
        except csv.Error as broken:
            raise invalid(f"{name} line {first}", None, f"cannot be read: {broken}", RIGHT_LINE) from broken
        line = reader.line_num
        if cells:
            yield first, cells
