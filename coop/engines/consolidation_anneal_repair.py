"""Compiled repair of a move: where it overfills a carton, part of a divisible lot is poured into another."""

from coop.engines.conduction_kernel import compiled
from coop.engines.consolidation_anneal_kernel import (
    CAPACITY,
    DIVISIBLE,
    LOAD,
    NUMBER,
    OFFER,
    PART,
    chance,
)

ELSEWHERE = 0.3
"""Chance that it is poured into a carton drawn at random although it could go where the move came from."""


@compiled
def write(moves, row, lot, source, target, grams):
    """Puts down one row of a move: so many g of a lot from one carton into another."""
    moves[row, 0], moves[row, 1], moves[row, 2], moves[row, 3] = lot, source, target, grams


@compiled
def repaired(luck, lots, cartons, offers, amount, inside, carries, moves, count):
    """Adds rows that pour divisible lots out of cartons which the rows overfill; 0 if one stays so."""
    rows = count
    for row in range(count):
        carton = moves[row, 2]
        if carton < 0:
            continue
        over = _load_after(cartons, moves, rows, carton) - offers[cartons[carton, OFFER], CAPACITY]
        if over > 0:
            if not _pours(luck, lots, cartons, offers, amount, inside, carries, moves, rows, carton, over):
                return 0
            rows += 1
    return rows


@compiled
def _load_after(cartons, moves, count, carton):
    load = cartons[carton, LOAD]
    for row in range(count):
        load += moves[row, 3] * ((moves[row, 2] == carton) - (moves[row, 1] == carton))
    return load


@compiled
def _pours(luck, lots, cartons, offers, amount, inside, carries, moves, count, carton, over):
    """Whether part of a divisible lot finds room where the move came from, or in a carton drawn at random."""
    number = cartons[carton, NUMBER]
    start, goal = int(chance(luck) * number), moves[0, 1]
    if goal < 0 or goal == carton or chance(luck) < ELSEWHERE:
        goal = int(chance(luck) * len(cartons))
    if goal == carton or cartons[goal, NUMBER] == 0:
        return False
    room = offers[cartons[goal, OFFER], CAPACITY] - _load_after(cartons, moves, count, goal)
    for step in range(number):
        lot = inside[carton, (start + step) % number]
        have, least = amount[carton, lot], lots[lot, PART]
        if not lots[lot, DIVISIBLE] or have < over or not carries[cartons[goal, OFFER], lot]:
            continue
        grams = over if amount[goal, lot] > 0 else max(over, least)
        if have - grams < least:
            grams = have
        if grams <= room and not _is_moved(moves, count, lot):
            write(moves, count, lot, carton, goal, grams)
            return True
    return False


@compiled
def _is_moved(moves, count, lot):
    seen = False
    for row in range(count):
        seen = seen or moves[row, 0] == lot
    return seen
