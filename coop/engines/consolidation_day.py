"""What a day of planning holds: lots, offers, and both in whole grams with all that cannot be taken out."""

import math
from collections import defaultdict
from fractions import Fraction
from typing import NamedTuple

import numpy as np

from coop.engines.carton_patterns import MOST_KINDS, Contents, Room
from coop.engines.consolidation_bill import GRAMS, consignment_cost
from coop.engines.consolidation_offer import Lot, Offer, may_carry
from coop.engines.money import MOST_CARTONS, MOST_MASS, half_up, whole

CUBIC_MILLIMETRES = 10**9
MOST_LOTS, MOST_OFFERS = 1000, 1000
LIKE_NOTHING_ELSE = 10
"""Times the dearest way of sending a lot alone: as dear counts leaving it, unless somebody says how dear."""
SMALL_LOT = 10
"""kg: the way of a smaller lot alone tells nothing of what a kilogram of others is worth."""


class Day(NamedTuple):
    """Offers that can carry something, and lots in classes of lots alike; g, mm³ and minor units throughout.

    classes: lots of each class by number; contents as carton_patterns takes them, for a divisible lot its
    least part and extra; left: what leaving a lot costs, whole minor units; worth: the same a kg; carries:
    offer × class; rooms, most_cartons, departure: of each offer; places: of each departure.
    """

    lots: tuple[Lot, ...]
    offers: tuple[Offer, ...]
    classes: tuple[tuple[int, ...], ...]
    contents: Contents
    left: tuple[int, ...]
    worth: tuple[Fraction, ...]
    carries: np.ndarray
    rooms: tuple[Room, ...]
    most_cartons: tuple[int, ...]
    departure: tuple[int, ...]
    places: tuple[int, ...]

    def contents_of(self, offer):
        """What an offer may carry: of everything else the count is 0."""
        count = np.where(self.carries[offer], self.contents.count, 0)
        volume = self.contents.volume * (self.rooms[offer].volume > 0)
        return self.contents._replace(count=count, volume=volume)

    def is_divisible(self, row):
        return bool(self.contents.extra[row])

    def class_mass(self, row):
        """g of one lot of a class."""
        return int(self.contents.mass[row] + self.contents.extra[row])


def reduced(lots, offers, *, places, may_not_share):
    """The day in whole numbers, without offers that carry nothing and lots that nothing carries.

    lots            (n,)   –   Lot, keys unlike
    offers          (m,)   –   Offer, keys unlike
    places          dict   –   cartons that still find place, by departure
    may_not_share   set    –   pairs of kinds that may not lie in one carton

    Returns Day.
    Raises ValueError for keys that are alike, a departure without places, or a mask of another length.
    Source: No source: grams, since kilograms in binary fractions do not add up to a capacity exactly.
    """
    _checked(lots, offers, places)
    able = np.array([[may_carry(lot, offer, n) for n, lot in enumerate(lots)] for offer in offers], bool)
    able = able.reshape(len(offers), len(lots))
    room = [places[offer.departure] // offer.places for offer in offers]
    kept = [o for o in range(len(offers)) if room[o] and able[o].any()]
    bits, clashes = _kinds(lots, may_not_share)
    values = _values(lots, offers, able)
    groups = defaultdict(list)
    for number, lot in enumerate(lots):
        if able[kept, number].any():
            alone = number if lot.is_divisible else None
            like = (lot.mass, lot.volume, bits[number], values[number], alone, able[kept, number].tobytes())
            groups[like].append(number)
    classes = tuple(sorted((tuple(group) for group in groups.values()), key=lambda group: group[0]))
    firsts = [group[0] for group in classes]
    departures = sorted({offers[o].departure for o in kept}, key=[offer.departure for offer in offers].index)
    contents = _contents(lots, classes, [bits[n] for n in firsts], [clashes[n] for n in firsts])
    return Day(
        lots=tuple(lots),
        offers=tuple(offers[o] for o in kept),
        classes=classes,
        contents=contents,
        left=tuple(half_up(values[n] * lots[n].mass) for n in firsts),
        worth=tuple(values[n] for n in firsts),
        carries=able[np.ix_(kept, firsts)],
        rooms=tuple(_room(offers[o]) for o in kept),
        most_cartons=tuple(
            min(room[o], _most_parts(contents, able[o, firsts]), MOST_MASS // offers[o].full_mass)
            for o in kept
        ),
        departure=tuple(departures.index(offers[o].departure) for o in kept),
        places=tuple(places[departure] for departure in departures),
    )


def _most_parts(contents, able):
    """No more cartons than lots and parts of lots, since an empty one never pays."""
    parts = contents.count * (1 + contents.extra // contents.mass)
    return int(parts[able].sum())


def _room(offer):
    volume = 0 if offer.volume is None else round(offer.volume * CUBIC_MILLIMETRES)
    return Room(int(offer.capacity * GRAMS), volume, math.ceil(offer.least_mass * GRAMS))


def _contents(lots, classes, bits, clashes):
    rows = [lots[group[0]] for group in classes]
    parts = [lot.least_part if lot.is_divisible else lot.mass for lot in rows]
    volume = [
        lot.volume * part / lot.mass if lot.volume else 0 for lot, part in zip(rows, parts, strict=True)
    ]
    extra = [lot.mass - part for lot, part in zip(rows, parts, strict=True)]
    columns = (
        [int(part * GRAMS) for part in parts],
        [round(each * CUBIC_MILLIMETRES) for each in volume],
        [len(group) for group in classes],
        [int(each * GRAMS) for each in extra],
        bits,
        clashes,
    )
    return Contents(*(np.array(column, np.int64) for column in columns))


def _kinds(lots, may_not_share):
    """A bit for each kind that clashes with any, so that all others are alike."""
    pairs = {(one, other) for pair in may_not_share for one, other in (tuple(pair), tuple(pair)[::-1])}
    kinds = sorted({one for one, _ in pairs})
    if len(kinds) > MOST_KINDS:
        raise ValueError(f"may_not_share must name at most {MOST_KINDS} kinds, not {len(kinds)}")
    bit = {kind: 1 << place for place, kind in enumerate(kinds)}
    clash = {one: sum(bit[other] for first, other in pairs if first == one) for one in kinds}
    return [bit.get(lot.kind, 0) for lot in lots], [clash.get(lot.kind, 0) for lot in lots]


def _values(lots, offers, able):
    """Minor units a kilogram left behind; where nobody says, more than any way of sending it alone costs."""
    alone = [
        _dearest_alone(lot, [offers[o] for o in np.flatnonzero(able[:, n])]) for n, lot in enumerate(lots)
    ]
    dear = [cost / max(lot.mass, SMALL_LOT) for lot, cost in zip(lots, alone, strict=True)]
    common = max(dear, default=0)
    return [
        LIKE_NOTHING_ELSE * max(common, cost / lot.mass) if lot.value is None else lot.value
        for lot, cost in zip(lots, alone, strict=True)
    ]


def _dearest_alone(lot, offers):
    """One minor unit more, so that a lot goes even where nothing costs anything."""
    return Fraction(1 + max((_alone(lot.mass, offer) for offer in offers), default=0))


def _alone(mass, offer):
    """What a carton with as much of the lot as it takes costs, in proportion for all of it."""
    part = min(mass, offer.capacity)
    return consignment_cost(offer, cartons=1, grams=int(part * GRAMS)) * mass / part


def _checked(lots, offers, places):
    for name, rows, most in (("lots", lots, MOST_LOTS), ("offers", offers, MOST_OFFERS)):
        if len(rows) > most:
            raise ValueError(f"{name} must be at most {most}, not {len(rows)}")
        keys = [row.key for row in rows]
        if len(set(keys)) < len(keys):
            raise ValueError(f"{name} must have unlike keys, not {keys}")
    for offer in offers:
        if len(offer.allowed) != len(lots):
            raise ValueError(f"allowed must have {len(lots)} answers, one a lot, not {len(offer.allowed)}")
        if offer.departure not in places:
            raise ValueError(f"places must name every departure, not leave out {offer.departure!r}")
    for count in places.values():
        whole("places", count, most=MOST_CARTONS)
