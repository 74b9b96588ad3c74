"""Compiled moves of annealing: each draws one, writes its rows (lot, from, to, g) and says how many."""

from coop.engines.conduction_kernel import compiled
from coop.engines.consolidation_anneal_kernel import (
    BULK,
    CAPACITY,
    DIVISIBLE,
    HOME,
    LOAD,
    NUMBER,
    OFFER,
    PART,
    ROOM,
    STAYS,
    VOLUME,
    bulk_of,
    chance,
    finds_place,
)
from coop.engines.consolidation_anneal_repair import repaired, write

FREE_TRY = 0.3
"""Share of the empty cartons drawn that are tried: an opened one seldom pays."""
RELOCATE, EXCHANGE, ROTATE, SEND_OTHERWISE, DISSOLVE = 0.35, 0.60, 0.75, 0.85, 0.86
"""Up to which draw a move is of that kind; beyond all, two lots for one."""
SOME_OF_ALL = 0.2
"""Chance that of a divisible lot only some goes although all would fit."""


@compiled
def draw(luck, lots, cartons, offers, places, amount, inside, carries, moves, is_framed):
    """A move of a kind drawn at random; 0 rows if it came to nothing."""
    kind = chance(luck)
    if is_framed and ROTATE <= kind < DISSOLVE:
        kind *= ROTATE
    carton = int(chance(luck) * len(cartons))
    if kind < ROTATE:
        return _relocate(
            luck, lots, cartons, offers, places, amount, inside, carries, moves, carton, kind, is_framed
        )
    if cartons[carton, NUMBER] == 0:
        return 0
    if kind < SEND_OTHERWISE:
        return _send_otherwise(luck, cartons, offers, places, amount, inside, carries, moves, carton)
    if kind < DISSOLVE:
        return _dissolve(luck, lots, cartons, offers, amount, inside, carries, moves, carton)
    return _two_for_one(luck, lots, cartons, offers, amount, inside, carries, moves, carton)


@compiled
def _relocate(luck, lots, cartons, offers, places, amount, inside, carries, moves, target, kind, is_framed):
    """A lot into another carton or a new one; beyond RELOCATE another lot leaves that carton for it."""
    is_new = cartons[target, NUMBER] == 0
    if is_new and (kind >= RELOCATE or chance(luck) > FREE_TRY):
        return 0
    lot = int(chance(luck) * len(lots))
    if not is_new and not carries[cartons[target, OFFER], lot]:
        return 0
    source = _source(luck, lots, cartons, amount, lot)
    if source == target or (source < 0 and lots[lot, STAYS] == 0):
        return 0
    if is_new and not _opens(luck, cartons, offers, places, carries, lot, target, is_framed):
        return 0
    other, leaving = -1, 0
    if kind >= RELOCATE:
        other = inside[target, int(chance(luck) * cartons[target, NUMBER])]
        if other == lot:
            return 0
        leaving = amount[target, other]
    grams = _portion(luck, lots, cartons, offers, amount, lot, source, target, other, leaving)
    if grams <= 0:
        return 0
    write(moves, 0, lot, source, target, grams)
    count = 1
    if other >= 0:
        count = _makes_room(luck, cartons, carries, moves, other, leaving, kind)
    return repaired(luck, lots, cartons, offers, amount, inside, carries, moves, count)


@compiled
def _source(luck, lots, cartons, amount, lot):
    """The carton that a lot is taken from, −1 for what stays behind."""
    if lots[lot, STAYS] > 0 and (not lots[lot, DIVISIBLE] or chance(luck) < 0.5):
        return -1
    if not lots[lot, DIVISIBLE]:
        return lots[lot, HOME]
    found, seen = -1, 0
    for carton in range(len(cartons)):
        if amount[carton, lot] > 0:
            seen += 1
            if chance(luck) * seen < 1.0:
                found = carton
    return found


@compiled
def _opens(luck, cartons, offers, places, carries, lot, carton, is_framed):
    """Gives an empty carton to an offer drawn at random, if that may carry the lot and finds place."""
    offer = cartons[carton, OFFER] if is_framed else int(chance(luck) * len(offers))
    if not carries[offer, lot] or not finds_place(offers, places, offer, -1):
        return False
    cartons[carton, OFFER] = offer
    return True


@compiled
def _portion(luck, lots, cartons, offers, amount, lot, source, target, other, leaving):
    """g that go: all, or of a divisible lot what finds room, so that the rest is no less than its part."""
    have = lots[lot, STAYS] if source < 0 else amount[source, lot]
    if not lots[lot, DIVISIBLE]:
        return have
    offer = cartons[target, OFFER]
    grams = min(have, offers[offer, CAPACITY] - cartons[target, LOAD] + leaving)
    if lots[lot, VOLUME] > 0 and offers[offer, ROOM] > 0:
        room = offers[offer, ROOM] - cartons[target, BULK]
        if leaving > 0:
            room += bulk_of(lots, other, leaving)
        grams = min(grams, room * lots[lot, PART] // lots[lot, VOLUME])
    if grams == have and other < 0 and chance(luck) < SOME_OF_ALL:
        grams = int(chance(luck) * have)
    if source >= 0 and 0 < have - grams < lots[lot, PART]:
        grams = have - lots[lot, PART]
    return grams


@compiled
def _makes_room(luck, cartons, carries, moves, other, leaving, kind):
    """The other lot goes where the first came from, or beyond EXCHANGE into a third carton."""
    source, target = moves[0, 1], moves[0, 2]
    goal = source
    if kind >= EXCHANGE or source < 0:
        goal = int(chance(luck) * len(cartons))
        if cartons[goal, NUMBER] == 0 or goal == target:
            return 0
    if not carries[cartons[goal, OFFER], other]:
        return 0
    write(moves, 1, other, target, goal, leaving)
    return 2


@compiled
def _send_otherwise(luck, cartons, offers, places, amount, inside, carries, moves, carton):
    """All that lies in a carton goes with another offer."""
    offer = int(chance(luck) * len(offers))
    if offer == cartons[carton, OFFER] or cartons[carton, LOAD] > offers[offer, CAPACITY]:
        return 0
    if not finds_place(offers, places, offer, cartons[carton, OFFER]):
        return 0
    for place in range(cartons[carton, NUMBER]):
        if not carries[offer, inside[carton, place]]:
            return 0
    for empty in range(len(cartons)):
        if cartons[empty, NUMBER] == 0:
            cartons[empty, OFFER] = offer
            return _all_of(cartons, amount, inside, moves, carton, empty)
    return 0


@compiled
def _all_of(cartons, amount, inside, moves, carton, target):
    for place in range(cartons[carton, NUMBER]):
        lot = inside[carton, place]
        write(moves, place, lot, carton, target, amount[carton, lot])
    return cartons[carton, NUMBER]


@compiled
def _dissolve(luck, lots, cartons, offers, amount, inside, carries, moves, carton):
    """Each lot of a carton goes into some other carton that has room."""
    _all_of(cartons, amount, inside, moves, carton, -1)
    for row in range(cartons[carton, NUMBER]):
        lot, grams = moves[row, 0], moves[row, 3]
        start, goal = int(chance(luck) * len(cartons)), -1
        for step in range(len(cartons)):
            other = (start + step) % len(cartons)
            if other != carton and _has_room(lots, cartons, offers, carries, moves, row, other, lot, grams):
                goal = other
                if chance(luck) < 0.5:
                    break
        if goal < 0:
            return 0
        moves[row, 2] = goal
    return cartons[carton, NUMBER]


@compiled
def _has_room(lots, cartons, offers, carries, moves, row, carton, lot, grams):
    """Whether a lot fits a carton that already takes the rows before."""
    offer = cartons[carton, OFFER]
    if cartons[carton, NUMBER] == 0 or not carries[offer, lot]:
        return False
    load, bulk = cartons[carton, LOAD] + grams, cartons[carton, BULK] + bulk_of(lots, lot, grams)
    for earlier in range(row):
        if moves[earlier, 2] == carton:
            load += moves[earlier, 3]
            bulk += bulk_of(lots, moves[earlier, 0], moves[earlier, 3])
    return load <= offers[offer, CAPACITY] and (offers[offer, ROOM] == 0 or bulk <= offers[offer, ROOM])


@compiled
def _two_for_one(luck, lots, cartons, offers, amount, inside, carries, moves, carton):
    """Two lots of a carton change places with one of another."""
    other = int(chance(luck) * len(cartons))
    if other == carton or cartons[carton, NUMBER] < 2 or cartons[other, NUMBER] == 0:
        return 0
    first, second = int(chance(luck) * cartons[carton, NUMBER]), int(chance(luck) * cartons[carton, NUMBER])
    if first == second:
        return 0
    one, two = inside[carton, first], inside[carton, second]
    back = inside[other, int(chance(luck) * cartons[other, NUMBER])]
    goal = cartons[other, OFFER]
    if back in (one, two) or not (carries[goal, one] and carries[goal, two]):
        return 0
    if not carries[cartons[carton, OFFER], back]:
        return 0
    write(moves, 0, one, carton, other, amount[carton, one])
    write(moves, 1, two, carton, other, amount[carton, two])
    write(moves, 2, back, other, carton, amount[other, back])
    return repaired(luck, lots, cartons, offers, amount, inside, carries, moves, 3)
