"""A QR code as drawn, against what ISO/IEC 18004:2015 lays down for every symbol."""

import re

import pytest

from api.qr import QUIET, qr_of

LINK = "https://traders.example/enrol#7KQ2M-XW94C"
# ISO/IEC 18004:2015, 6.3.3: a dark ring of 7 × 7 modules around a light one around a dark 3 × 3.
FINDER = [
    "#######",
    "#     #",
    "# ### #",
    "# ### #",
    "# ### #",
    "#     #",
    "#######",
]


def drawn(code):
    """The modules that the path fills, row by row."""
    rows = [[" "] * code["size"] for _ in range(code["size"])]
    for x, y, length, back in re.findall(r"M(\d+) (\d+)h(\d+)v1h-(\d+)z", code["path"]):
        assert length == back
        for step in range(int(length)):
            rows[int(y)][int(x) + step] = "#"
    return ["".join(row) for row in rows]


@pytest.mark.parametrize("text", ["A", LINK, LINK * 4])
def test_a_symbol_has_its_three_corners_and_the_timing_between_them(text):
    code = qr_of(text)
    rows, sides = drawn(code), code["size"] - 2 * QUIET
    far = QUIET + sides - 7
    for y, x in ((QUIET, QUIET), (QUIET, far), (far, QUIET)):
        assert [row[x : x + 7] for row in rows[y : y + 7]] == FINDER
    # 6.3.5: alternating modules in row and column 6, dark first.
    for row in (rows[QUIET + 6], [one[QUIET + 6] for one in rows]):
        assert "".join(row[QUIET + 8 : far - 1]) == ("# " * sides)[: sides - 16]
    # 5.3.1: versions have 17 + 4 × version modules a side.
    assert (sides - 17) % 4 == 0


def test_a_quiet_zone_of_four_modules_is_left_white():
    # ISO/IEC 18004:2015, 6.3.8.
    rows = drawn(qr_of(LINK))
    around = [*rows[:4], *rows[-4:], *[row[:4] + row[-4:] for row in rows]]
    assert set("".join(around)) == {" "}


def test_the_whole_path_is_made_of_runs_and_is_small_enough_for_a_slow_line():
    path = qr_of(LINK)["path"]
    assert re.fullmatch(r"(M\d+ \d+h\d+v1h-\d+z)+", path)
    assert len(path) < 6000


def test_another_text_is_another_symbol():
    assert qr_of(LINK) != qr_of(LINK.lower())
