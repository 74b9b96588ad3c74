"""Splits and grids that the phone works out by itself, as Python works them out."""

import math
import random
from bisect import bisect_right

import numpy as np
import pytest

from coop.engines import cost_sharing
from coop.engines.largest_remainder import largest_remainder
from tests.vectors import plain, stored

SPLITS, GRIDS, QUESTIONS = 400, 6, 40


def split_case(draw):
    """Masses, a bill, what each would pay alone, a coin; and who pays what by weight, and capped."""
    players = draw.randint(1, 9)
    masses = [
        draw.choice([10.0, 20.0, round(draw.uniform(0.5, 90), draw.choice([0, 1, 3]))]) or 1.0
        for _ in range(players)
    ]
    bill, coin = draw.choice([0, 1, 55_638, draw.randint(1, 500_000)]), draw.choice([1, 5, 100])
    share = [bill * mass / sum(masses) for mass in masses]
    alone = [
        None if draw.random() < 0.15 else int(part * draw.uniform(0.7, 1.9)) + draw.choice([0, 1])
        for part in share
    ]
    limits = [math.inf if most is None else most for most in alone]
    capped = cost_sharing.capped(masses, bill=bill, alone=limits)
    return {
        "masses_kg": masses,
        "bill_minor": bill,
        "coin_minor": coin,
        "alone_minor": alone,
        "by_weight": largest_remainder(cost_sharing.by_weight(masses, bill=bill), total=bill, coin=coin),
        "feasible": capped.feasible,
        "capped": largest_remainder(
            capped.shares, total=bill, coin=coin, at_most=limits if capped.feasible else None
        ),
    }


def grid_case(draw):
    """An invented reckoning, questions in and around it, and what is read between its nodes."""
    masses = sorted(draw.sample(range(100, 1000), draw.randint(2, 9)))
    masses = [mass / 10 for mass in masses]
    starts = [float(start) for start in sorted(draw.sample(range(-30, -5), draw.randint(2, 8)))]
    count = len(masses) * len(starts)
    reckoning = {
        "grid": {
            "mass_kg": masses,
            "start_c": starts,
            "hold_min": [draw.randint(0, 4000) for _ in range(count)],
            "log_odds": [draw.randint(-927, 760) for _ in range(count)],
            "latest_min": [draw.randint(-2000, 1700) for _ in range(count)],
            "softened": [draw.randint(0, 10_000) for _ in range(count)],
        },
        "bill": {"carton": {"capacity_kg": masses[-1] + 0.0004, "places": draw.choice([1, 3])}},
        "confidence": draw.choice([0.9, 0.95]),
        "wait_min": draw.choice([0, 40]),
    }
    nodes = [(draw.choice(masses), draw.choice(starts)) for _ in range(5)]
    others = [
        (
            round(draw.uniform(masses[0] * 0.8, masses[-1] * 3.2), 1),
            round(draw.uniform(starts[0] - 1, starts[-1] + 1), 1),
        )
        for _ in range(QUESTIONS)
    ]
    return {
        "reckoning": reckoning,
        "asked": nodes + others,
        "answers": [read(reckoning, *one) for one in nodes + others],
    }


def read(reckoning, mass, start):
    """What a phone may say of so many kilograms at a start temperature."""
    grid, carton = reckoning["grid"], reckoning["bill"]["carton"]
    cartons = math.ceil(mass / carton["capacity_kg"])
    load = math.floor(mass / cartons * 1000 + 1e-6) / 1000
    if cartons > carton["places"] or load > grid["mass_kg"][-1]:
        return {"outside": "heavier"}
    if load < grid["mass_kg"][0]:
        return {"outside": "lighter"}
    if not grid["start_c"][0] <= start <= grid["start_c"][-1]:
        return {"outside": "colder" if start < grid["start_c"][0] else "warmer"}
    row, down = place(grid["mass_kg"], load)
    column, right = place(grid["start_c"], start)

    def corners(name):
        table = np.reshape(grid[name], (len(grid["mass_kg"]), -1)).astype(float)
        return table[row : row + 2, column : column + 2]

    def between(name, of=float):
        low, high = (of(line[0]) + right * (of(line[1]) - of(line[0])) for line in corners(name))
        return float(low + down * (high - low))

    chance = math.floor(1000 / (1 + between("log_odds", odds_against))) / 1000
    say = np.outer([1 - down, down], [1 - right, right]) > 0
    latest = int(corners("latest_min")[say].min())
    return {
        "cartons": cartons,
        "hold_min": math.floor(between("hold_min")),
        "chance_hard": chance,
        "latest_min": latest,
        "soft": min(10_000, math.ceil(between("softened"))),
        "safe": chance >= reckoning["confidence"] and latest >= reckoning["wait_min"],
    }


def odds_against(hundredths):
    return math.exp(-hundredths / 100)


def place(nodes, value):
    at = min(bisect_right(nodes, value) - 1, len(nodes) - 2)
    return at, (value - nodes[at]) / (nodes[at + 1] - nodes[at])


@pytest.mark.parametrize(
    ("name", "make", "count"), [("splits", split_case, SPLITS), ("grids", grid_case, GRIDS)]
)
def test_what_the_screens_are_held_to_is_what_python_says_now(name, make, count):
    cases = [make(random.Random(f"{name} {number}")) for number in range(count)]
    assert stored(name, cases) == plain(cases)


def test_splits_of_every_kind_are_among_them():
    cases = stored("splits")
    assert all(sum(case[rule]) == case["bill_minor"] for case in cases for rule in ("by_weight", "capped"))
    assert {case["feasible"] for case in cases} == {True, False}
    assert any(None in case["alone_minor"] for case in cases)
