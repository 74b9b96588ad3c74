"""A lot that wants to travel, and a carton design on a departure that could take it."""

import math
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction

from coop.engines.consolidation_bill import GRAMS
from coop.engines.fare_pieces import FarePieces, fare_pieces
from coop.engines.money import MOST_CARTONS, MOST_MASS, exact, half_up, positive, whole
from coop.engines.tariff import MOST_SIDE, Tariff

MOST_VOLUME = 1000


@dataclass(frozen=True, kw_only=True)
class Lot:
    """Fish of one owner that travels together unless it may be split, then in parts of least_part kg or more.

    mass kg; volume m³ as it lies in a carton, None where only kg count; kind: species; ready_at and deadline
    s on one clock; value: minor units that leaving a kilogram behind costs, None where it goes if it can.
    """

    key: object
    mass: Fraction
    volume: Fraction | None = None
    kind: str = ""
    ready_at: float = -math.inf
    deadline: float = math.inf
    may_split: bool = False
    least_part: Fraction = Fraction(1)
    value: Fraction | None = None

    def __post_init__(self):
        _set(self, mass=_grams("mass", self.mass), least_part=_grams("least_part", self.least_part))
        if self.volume is not None:
            _set(self, volume=positive("volume", self.volume, most=MOST_VOLUME))
        if self.value is not None:
            _set(self, value=exact("value", self.value, most=10**12))
        _ordered(ready_at=self.ready_at, deadline=math.inf)
        _ordered(deadline=self.deadline)

    @property
    def is_divisible(self):
        """Whether it may be split, and is large enough to be."""
        return self.may_split and self.least_part < self.mass


@dataclass(frozen=True, kw_only=True)
class Offer:
    """One design of carton on one departure; all its cartons are one consignment with one bill.

    closes_at: latest closing, leaves_at, hands_over_by: cautious arrival, all s on the clock of the lots.
    capacity kg and volume m³ of one carton (None: only kg count), volume kept to a gram of fish a part;
    least_mass kg that keep it hard; allowed: for each lot whether it may travel so. carton_cost,
    kilogram_cost, consignment_cost: minor units besides the tariff. Gross mass of a carton = tare kg +
    gross_per_kilogram × kg of fish. sides m outside; places that one carton takes of the vehicle.
    """

    key: object
    departure: object
    closes_at: float
    leaves_at: float
    hands_over_by: float
    capacity: Fraction
    allowed: tuple[bool, ...]
    volume: Fraction | None = None
    least_mass: Fraction = Fraction(0)
    carton_cost: Fraction = Fraction(0)
    kilogram_cost: Fraction = Fraction(0)
    consignment_cost: Fraction = Fraction(0)
    tariff: Tariff | None = None
    on: date | None = None
    sides: tuple[Fraction, Fraction, Fraction] = (Fraction(1), Fraction(1), Fraction(1))
    tare: Fraction = Fraction(0)
    gross_per_kilogram: Fraction = Fraction(1)
    empties: Fraction = Fraction(0)
    places: int = 1
    pieces: FarePieces = field(init=False)

    def __post_init__(self):
        _set(self, capacity=_grams("capacity", self.capacity))
        _set(self, least_mass=exact("least_mass", self.least_mass, most=MOST_MASS))
        if self.volume is not None:
            _set(self, volume=positive("volume", self.volume, most=MOST_VOLUME))
        for name in ("carton_cost", "kilogram_cost", "consignment_cost"):
            _set(self, **{name: exact(name, getattr(self, name), most=10**12)})
        _set(self, tare=exact("tare", self.tare, most=1000), empties=exact("empties", self.empties, most=1))
        _set(self, gross_per_kilogram=positive("gross_per_kilogram", self.gross_per_kilogram, most=10))
        _set(self, places=whole("places", self.places, least=1, most=MOST_CARTONS))
        _set(self, allowed=tuple(bool(each) for each in self.allowed))
        _set(self, sides=tuple(positive("sides", side, most=MOST_SIDE) for side in self.sides))
        _ordered(closes_at=self.closes_at, leaves_at=self.leaves_at, hands_over_by=self.hands_over_by)
        if self.full_mass > MOST_MASS:
            raise ValueError(f"capacity must leave a full carton below {MOST_MASS} kg, not {self.capacity}")
        if self.tariff is not None and not isinstance(self.on, date):
            raise ValueError(f"on must be the day of departure where there is a tariff, not {self.on!r}")
        pieces = fare_pieces(self.tariff, sides=self.sides, on=self.on, empties=self.empties)
        _set(self, pieces=pieces)

    @property
    def full_mass(self):
        """kg gross of a carton that is full."""
        return self.tare + self.gross_per_kilogram * self.capacity


def may_carry(lot, offer, number):
    """Whether a lot may travel with an offer as far as hours, safety and its own size say.

    lot      Lot     –
    offer    Offer   –
    number   int     –   place of the lot in `allowed`

    Returns bool.
    Raises IndexError for a number beyond `allowed`.
    Source: No source: comparison.
    """
    part = lot.least_part if lot.is_divisible else lot.mass
    bulk = lot.volume * part / lot.mass if lot.volume and offer.volume else 0
    return (
        lot.ready_at <= offer.closes_at
        and offer.hands_over_by <= lot.deadline
        and offer.allowed[number]
        and part <= offer.capacity
        and bulk <= (offer.volume or 0)
    )


def _grams(name, value):
    """kg to the gram, the nearest: finer is no weighing, and must not tip a carton that is exactly full."""
    mass = Fraction(half_up(positive(name, value, most=MOST_MASS) * GRAMS), GRAMS)
    return positive(name, mass, most=MOST_MASS)


def _ordered(**instants):
    """Instants s in the order in which they must come, none of them NaN."""
    before = -math.inf
    for name, value in instants.items():
        if isinstance(value, bool) or not isinstance(value, (int, float)) or not value >= before:
            raise ValueError(f"{name} must be an instant in s, not before {before}, not {value!r}")
        before = value


def _set(frozen, **values):
    for name, value in values.items():
        object.__setattr__(frozen, name, value)
