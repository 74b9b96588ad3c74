"""The README shows what the command prints, and the table moves the way a carton would."""

import re
from pathlib import Path

import pytest

from coop.management.commands.hold_table import PLACES, hold_words, table

README = Path(__file__).resolve().parents[2] / "README.md"
MILD, HOT, ROOF = PLACES.values()


def hours(density, start, place):
    return [int(number) for number in re.findall(r"\d+", hold_words(density, start, place))]


def test_the_readme_shows_what_the_command_prints():
    assert "\n".join(table()) in README.read_text(encoding="utf-8")


@pytest.mark.parametrize("place", PLACES.values())
def test_tighter_shavings_and_colder_fish_hold_longer(place):
    assert hours(80.0, -18.0, place) < hours(150.0, -18.0, place) < hours(180.0, -18.0, place)
    assert hours(150.0, -18.0, place) < hours(150.0, -25.0, place)


def test_heat_and_sun_shorten_the_hold():
    assert hours(150.0, -18.0, MILD) > hours(150.0, -18.0, HOT) > hours(150.0, -18.0, ROOF)
