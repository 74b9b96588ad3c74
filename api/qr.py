"""QR codes as a path that a screen or a label draws: no picture to fetch, no library on the phone."""

from itertools import groupby

import segno

QUIET = 4
"""Modules of white on each side that ISO/IEC 18004 asks for."""


def qr_of(text):
    """{size, path}: sides in modules, the quiet zone within, and SVG path data of the dark ones."""
    rows = segno.make(text, error="m", micro=False).matrix
    runs = [run for y, row in enumerate(rows) for run in dark_runs(row, y)]
    path = "".join(f"M{x + QUIET} {y + QUIET}h{length}v1h-{length}z" for x, y, length in runs)
    return {"size": len(rows) + 2 * QUIET, "path": path}


def dark_runs(row, y):
    """(x, y, length) of each stretch of dark modules in a row."""
    x = 0
    for dark, modules in groupby(row):
        length = len(list(modules))
        if dark:
            yield x, y, length
        x += length
