"""Compiled heart of annealing: lots move between cartons, most moves that save and few that cost are kept.

A move is a list of rows (lot, from, to, g); carton −1 is staying behind. All of it is done, looked at, and
undone again if it is not kept, so that every kind of move shares one way of counting.
"""

from typing import NamedTuple

import numpy as np

from coop.engines.conduction_kernel import compiled

TINY = 1e-9
TRUE_LEFT, SHORT = 0, 1
MASS, VOLUME, PART, DIVISIBLE, KIND, CLASHES, HOME, STAYS = range(8)
"""Columns of the lots: g, mm³ of a part, g of the least part (of a whole lot all), whether divisible, bits of
kinds, the carton that a whole lot lies in, g that stay behind."""
OFFER, LOAD, BULK, NUMBER = range(4)
"""Columns of the cartons: offer, g, mm³, how many lots."""
CAPACITY, ROOM, LEAST, MOST, DEPARTURE, TAKES, CARTONS, GRAMS = range(8)
"""Columns of the offers: of one carton g, mm³ and least g; most cartons, departure, places that one takes;
cartons and g that are carried."""
PLACES, TAKEN = range(2)
"""Columns of the departures."""


class Fares(NamedTuple):
    """What a consignment costs: line (o, 5) of consignment, carton, gram, tare kg and gross kg of a gram.

    steps (o, k, 3): until kg, fixed, a kg; floors and kilograms (o, k, 3) as FarePieces has them.
    """

    line: np.ndarray
    steps: np.ndarray
    floors: np.ndarray
    kilograms: np.ndarray


class State(NamedTuple):
    """All that the moves read and write: tables of lots, cartons, offers, departures, and what lies where.

    amount (c, n) g; inside (c, n) lots, the first NUMBER count; carries (o, n); worth (n, 2): what leaving a
    gram costs, capped so that a lot may stay for a while, and what the true cost has above that; paid (o,):
    minor units.
    """

    lots: np.ndarray
    cartons: np.ndarray
    offers: np.ndarray
    places: np.ndarray
    amount: np.ndarray
    inside: np.ndarray
    carries: np.ndarray
    worth: np.ndarray
    paid: np.ndarray


@compiled
def chance(luck):
    """The next draw of 0 … 1: Marsaglia 2003, Xorshift RNGs, J. Stat. Softw. 8(14) (from memory)."""
    bits = luck[0]
    bits ^= bits << np.uint64(13)
    bits ^= bits >> np.uint64(7)
    bits ^= bits << np.uint64(17)
    luck[0] = bits
    return (bits >> np.uint64(11)) * 2.0**-53


@compiled
def fare_of(fares, offer, cartons, grams):
    """Minor units of a consignment, before its lines are rounded."""
    if cartons == 0:
        return 0.0
    line, steps, floors, whole = fares.line, fares.steps, fares.floors, fares.kilograms
    gross = line[offer, 3] * cartons + line[offer, 4] * grams
    cost = line[offer, 0] + line[offer, 1] * cartons + line[offer, 2] * grams
    step = 0
    while gross >= steps[offer, step, 0] - TINY:
        step += 1
    cost += steps[offer, step, 1] + steps[offer, step, 2] * gross
    for k in range(floors.shape[1]):
        cost += max(floors[offer, k, 0], max(floors[offer, k, 1] * cartons, floors[offer, k, 2] * gross))
    for k in range(whole.shape[1]):
        counted = max(np.ceil(gross - TINY), np.ceil(whole[offer, k, 2] * cartons - TINY))
        cost += max(whole[offer, k, 0], whole[offer, k, 1] * counted)
    return cost


@compiled
def bulk_of(lots, lot, grams):
    """mm³ of so many g of a lot, rounded up."""
    return (grams * lots[lot, VOLUME] + lots[lot, PART] - 1) // lots[lot, PART]


@compiled
def put(lots, cartons, offers, places, amount, inside, lot, carton, grams):
    """Adds g of a lot to a carton, or takes them out if they are negative."""
    if carton < 0:
        lots[lot, STAYS] += grams
        return
    before = amount[carton, lot]
    after = before + grams
    amount[carton, lot] = after
    cartons[carton, LOAD] += grams
    cartons[carton, BULK] += bulk_of(lots, lot, after) - bulk_of(lots, lot, before)
    offer = cartons[carton, OFFER]
    offers[offer, GRAMS] += grams
    if before == 0:
        if cartons[carton, NUMBER] == 0:
            offers[offer, CARTONS] += 1
            places[offers[offer, DEPARTURE], TAKEN] += offers[offer, TAKES]
        inside[carton, cartons[carton, NUMBER]] = lot
        cartons[carton, NUMBER] += 1
        lots[lot, HOME] = carton
    elif after == 0:
        last = cartons[carton, NUMBER] - 1
        for place in range(last):
            if inside[carton, place] == lot:
                inside[carton, place] = inside[carton, last]
                break
        cartons[carton, NUMBER] = last
        if lots[lot, HOME] == carton:
            lots[lot, HOME] = -1
        if last == 0:
            offers[offer, CARTONS] -= 1
            places[offers[offer, DEPARTURE], TAKEN] -= offers[offer, TAKES]


@compiled
def is_lawful(lots, cartons, offers, amount, inside, carries, carton):
    """Whether a carton holds no more than it may, and only what may travel so and lie together."""
    offer = cartons[carton, OFFER]
    if cartons[carton, LOAD] > offers[offer, CAPACITY]:
        return False
    if offers[offer, ROOM] > 0 and cartons[carton, BULK] > offers[offer, ROOM]:
        return False
    kinds, clashes = np.int64(0), np.int64(0)
    for place in range(cartons[carton, NUMBER]):
        lot = inside[carton, place]
        if not carries[offer, lot] or amount[carton, lot] < lots[lot, PART]:
            return False
        if lots[lot, CLASHES] & kinds or clashes & lots[lot, KIND]:
            return False
        kinds |= lots[lot, KIND]
        clashes |= lots[lot, CLASHES]
    return True


@compiled
def missing(cartons, offers, carton):
    """g that a carton lacks to stay hard."""
    if cartons[carton, NUMBER] == 0:
        return 0
    return max(0, offers[cartons[carton, OFFER], LEAST] - cartons[carton, LOAD])


@compiled
def finds_place(offers, places, offer, instead):
    """Whether one more carton of an offer may be sent, instead of one of another (−1: of none)."""
    if offers[offer, CARTONS] >= offers[offer, MOST]:
        return False
    departure = offers[offer, DEPARTURE]
    taken = places[departure, TAKEN] + offers[offer, TAKES]
    if instead >= 0 and offers[instead, DEPARTURE] == departure:
        taken -= offers[instead, TAKES]
    return taken <= places[departure, PLACES]


@compiled
def weigh(
    lots, cartons, offers, places, amount, inside, carries, worth, paid, fares, moves, count, sums, dearth
):
    """Does a move; what it costs, and into sums what it adds to the true cost of lots left and to g missing.

    Infinite where a carton then breaks a rule; nothing is undone here.
    """
    cost, lacking, hidden = 0.0, 0, 0.0
    for side in (-1, 1):
        for row in range(count):
            for end in (1, 2):
                carton = moves[row, end]
                if carton >= 0 and not _is_repeated(moves, row, end, carton):
                    lacking += side * missing(cartons, offers, carton)
        if side > 0:
            break
        do(lots, cartons, offers, places, amount, inside, moves, count)
    for row in range(count):
        stays = moves[row, 3] * ((moves[row, 2] < 0) - (moves[row, 1] < 0))
        cost += stays * worth[moves[row, 0], 0]
        hidden += stays * worth[moves[row, 0], 1]
    for row in range(count):
        for end in (1, 2):
            carton = moves[row, end]
            if carton < 0 or _is_repeated(moves, row, end, carton):
                continue
            if cartons[carton, NUMBER] > 0 and not is_lawful(
                lots, cartons, offers, amount, inside, carries, carton
            ):
                return np.inf
            cost += _news(cartons, offers, paid, fares, moves, row, end)
    sums[TRUE_LEFT], sums[SHORT] = hidden, lacking
    return cost + dearth * lacking


@compiled
def _news(cartons, offers, paid, fares, moves, row, end):
    """What the offer of a carton costs more than before, unless an earlier carton of it was asked."""
    offer = cartons[moves[row, end], OFFER]
    for earlier in range(row + 1):
        for side in range(1, end if earlier == row else 3):
            carton = moves[earlier, side]
            if carton >= 0 and cartons[carton, OFFER] == offer:
                return 0.0
    return fare_of(fares, offer, offers[offer, CARTONS], offers[offer, GRAMS]) - paid[offer]


@compiled
def _is_repeated(moves, row, end, carton):
    """Whether a carton stood in a move before this place."""
    for earlier in range(row + 1):
        for side in range(1, end if earlier == row else 3):
            if moves[earlier, side] == carton:
                return True
    return False


@compiled
def settle(cartons, offers, paid, fares, moves, count):
    """Keeps a move: the costs of its offers are those to compare with from now on."""
    for row in range(count):
        for end in (1, 2):
            if moves[row, end] >= 0:
                offer = cartons[moves[row, end], OFFER]
                paid[offer] = fare_of(fares, offer, offers[offer, CARTONS], offers[offer, GRAMS])


@compiled
def do(lots, cartons, offers, places, amount, inside, moves, count):
    """Makes a move."""
    for row in range(count):
        lot, source, target, grams = moves[row, 0], moves[row, 1], moves[row, 2], moves[row, 3]
        put(lots, cartons, offers, places, amount, inside, lot, source, -grams)
        put(lots, cartons, offers, places, amount, inside, lot, target, grams)


@compiled
def undo(lots, cartons, offers, places, amount, inside, moves, count):
    """Takes a move back."""
    for row in range(count - 1, -1, -1):
        lot, source, target, grams = moves[row, 0], moves[row, 1], moves[row, 2], moves[row, 3]
        put(lots, cartons, offers, places, amount, inside, lot, target, -grams)
        put(lots, cartons, offers, places, amount, inside, lot, source, grams)
