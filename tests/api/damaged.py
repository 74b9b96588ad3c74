"""Two hundred damaged files: each of a sound one, in one way that no reader may take for sound.

Systematic: every column of every table and every field of every file of a feed that must be there, each in
ways that fit its kind. `tests/api/test_csv_rows_damage.py` and `test_gtfs_feed_damage.py` send them.
"""

from tests.api.feeds import FILES, zipped

WRONG_CELLS = {
    "Amount": ("cheap", "1.234.567", "-5"),
    "Number": ("much", "1e5"),
    "Whole": ("1.5", "one"),
    "Day": ("02/03/2026", "2026-02-30"),
    "Hour": ("25:00", "4 pm"),
    "YesNo": ("perhaps",),
    "Choice": ("another",),
    "Months": ("13", "1 1"),
    "Column": ("two\nlines", "x" * 200),
}


def lines(content, separator=","):
    return [line.split(separator) for line in content.decode("utf-8-sig").rstrip("\r\n").split("\r\n")]


def joined(rows):
    return "".join(",".join(cells) + "\r\n" for cells in rows).encode()


def quoted(cell):
    return '"' + cell.replace('"', '""') + '"' if set(cell) & set(',"\n') else cell


def damaged_tables(content, columns):
    """(what, content, where) for one sound table whose cells hold neither commas nor quotation marks."""
    header, *rows = lines(content)
    for place, column in enumerate(columns):
        kind = next(one for one in type(column).__mro__ if one.__name__ in WRONG_CELLS).__name__
        cells = WRONG_CELLS[kind] + (() if column.may_be_empty else ("",))
        for cell in cells:
            first = [*rows[0][:place], quoted(cell), *rows[0][place + 1 :]]
            yield (
                f"{column.name} is {cell[:12]!r}",
                joined([header, first, *rows[1:]]),
                f"line 2, {column.name}",
            )
        short = [row[:place] + row[place + 1 :] for row in (header, *rows)]
        yield f"without {column.name}", joined(short), f"line 1, {column.name}"
    yield "a cell more", joined([header, [*rows[0], ""], *rows[1:]]), "line 2"
    yield "a column more", joined([[*header, "colour"], *([*row, ""] for row in rows)]), "line 1, colour"
    yield "a column twice", joined([[*header, header[0]], *([*row, row[0]] for row in rows)]), "line 1"
    yield "a line twice", joined([header, rows[0], *rows]), "line 3"
    yield "no byte of text", joined([header, *rows]) + b"\0", "line"
    yield "not UTF-8", joined([header, *rows]) + b"\xff\xfe", "line"
    yield "an open quotation mark", joined([header, ['"' + rows[0][0], *rows[0][1:]], *rows[1:]]), "line 2"
    yield "nothing at all", b"\r\n", "line 1"


# What no field of this kind may be, by the name of the field.
WRONG_FIELDS = {
    "agency_url": ("example",),
    "agency_timezone": ("Lake/Time",),
    "stop_lat": ("91", "south"),
    "stop_lon": ("-181",),
    "route_type": ("9", "bus"),
    "arrival_time": ("4 pm", "16:60:00"),
    "departure_time": ("1600",),
    "stop_sequence": ("-1", "first"),
    "monday": ("2", "yes"),
    "start_date": ("2026-03-02", "20260230"),
    "end_date": ("20250101",),
    "date": ("1 May",),
    "exception_type": ("3", "0"),
    "start_time": ("8 am",),
    "end_time": ("07:00:00",),
    "headway_secs": ("0", "-600", "1.5"),
    "exact_times": ("2",),
    "timepoint": ("yes",),
    "pickup_type": ("4",),
    "location_type": ("5",),
}
REQUIRED = {
    "agency.txt": ("agency_name", "agency_url", "agency_timezone"),
    "stops.txt": ("stop_id",),
    "routes.txt": ("route_id", "route_type"),
    "trips.txt": ("route_id", "service_id", "trip_id"),
    "stop_times.txt": ("trip_id", "stop_id", "stop_sequence"),
    "calendar.txt": ("service_id", "monday", "sunday", "start_date", "end_date"),
    "calendar_dates.txt": ("service_id", "date", "exception_type"),
    "frequencies.txt": ("trip_id", "start_time", "end_time", "headway_secs"),
}
REFERENCES = {
    "routes.txt": ("agency_id",),
    "trips.txt": ("route_id", "service_id"),
    "stop_times.txt": ("trip_id", "stop_id"),
    "frequencies.txt": ("trip_id",),
}


def plain(name):
    """Header and lines of a file of the sound feed, cut at commas: one name there has one inside of marks."""
    return [line.replace('"Bay 1, Lake Park"', "Bay 1").split(",") for line in FILES[name].splitlines()]


def text(rows):
    return "".join(",".join(cells) + "\n" for cells in rows)


def with_cell(name, field, value):
    header, first, *rest = plain(name)
    place = header.index(field)
    return FILES | {name: text([header, [*first[:place], value, *first[place + 1 :]], *rest])}


def damaged_feeds():
    """(what, content, where) of each."""
    for name, fields in REQUIRED.items():
        header = plain(name)[0]
        for field in fields:
            place = header.index(field)
            without = [row[:place] + row[place + 1 :] for row in plain(name)]
            yield f"{name} without {field}", zipped(FILES | {name: text(without)}), name
            yield (
                f"{name} with an empty {field}",
                zipped(with_cell(name, field, "")),
                f"{name} line 2, {field}",
            )
        for field in set(header) & set(WRONG_FIELDS):
            for value in WRONG_FIELDS[field]:
                yield f"{name} with {field} {value}", zipped(with_cell(name, field, value)), f"{name} line 2"
        for field in REFERENCES.get(name, ()):
            yield f"{name} with a strange {field}", zipped(with_cell(name, field, "nobody")), f"{name} line 2"
        yield from damaged_texts(name)
    yield from damaged_zips()


def damaged_texts(name):
    """Ways in which any file of a feed may be hurt."""
    rows = plain(name)
    hurt = {
        "a cell more": text([rows[0], [*rows[1], "x"], *rows[2:]]),
        "a column twice": text([[*row, row[0]] for row in rows]),
        "a line twice": text([*rows, rows[1]]),
        "an open quotation mark": FILES[name] + '"open',
        "a byte of nothing": FILES[name] + "\0",
        "not UTF-8": FILES[name].encode() + b"\xff\n",
    }
    for what, content in hurt.items():
        yield f"{name}: {what}", zipped(FILES | {name: content}), name


def damaged_zips():
    sound = zipped()
    for cut in (1, 100, 500, len(sound) // 2):
        yield f"cut by {cut}", sound[:-cut], ""
    for at in (30, 60, 200, 400, 900):
        yield f"another byte at {at}", sound[:at] + bytes([sound[at] ^ 0x55]) + sound[at + 1 :], ""
    yield "a path", zipped(FILES | {"../stops.txt": ""}), "feed"
    yield "no zip", b"stop_id\n", "feed"
    for name in ("agency.txt", "stops.txt", "routes.txt", "trips.txt", "stop_times.txt"):
        yield f"without {name}", zipped({one: it for one, it in FILES.items() if one != name}), "feed"
