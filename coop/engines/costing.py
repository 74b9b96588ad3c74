"""What a delivered kilogram costs: every component of a consignment as a line of its own."""

from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction

from coop.engines.money import (
    MOST_CARTONS,
    MOST_MASS,
    CostLine,
    cost_line,
    exact,
    positive,
    rounded_up,
    whole,
)
from coop.engines.reuse import expected_uses

DRIP_SHARE = Fraction("0.0265")
"""Of the mass of fish that thaws: cod, frozen and thawed, 2.65 % ± 0.14 (J. Fish Biol. 95:1486, 2019)."""
BASES = ("consignment", "carton", "kilogram")
CODES = ("fish", "freezing_energy", "material", "labour", "handling", "levy", "papers", "receiver")
ORDER = (
    *("fish", "freezing_energy", "material", "labour", "handling"),
    *("fare_per_carton", "fare_per_kilogram", "fare_by_step", "fare_per_volume"),
    *("fare_per_volumetric_kilogram", "fare_per_seat", "fare_surcharge"),
    *("levy", "papers", "receiver", "return_of_empty", "softening"),
)
"""Codes of all lines in the order of the work, from the freezer to the buyer."""
RANK = {code: rank for rank, code in enumerate(ORDER)}


@dataclass(frozen=True, kw_only=True)
class Item:
    """Something that is paid for: so many units for each consignment, carton or kilogram of fish.

    quantity of units, each at rate minor units. What lasts several trips is charged by the share that one
    trip uses up. `whole_units` are bought whole for the consignment: bags, sacks.
    """

    code: str
    basis: str
    rate: int
    quantity: Fraction = Fraction(1)
    unit: str = ""
    name: str = ""
    priced_on: date | None = None
    trips: int = 1
    loss_chance: Fraction = Fraction(0)
    whole_units: bool = False
    used: Fraction = field(init=False)
    used_up: Fraction = field(init=False)

    def __post_init__(self):
        for name, words in (("code", CODES), ("basis", BASES)):
            if getattr(self, name) not in words:
                raise ValueError(f"{name} must be one of {', '.join(words)}, not {getattr(self, name)!r}")
        object.__setattr__(self, "rate", whole("rate", self.rate))
        object.__setattr__(self, "quantity", exact("quantity", self.quantity, most=10**6))
        used = 1 / expected_uses(trips=self.trips, loss_chance=self.loss_chance)
        object.__setattr__(self, "used", used)
        object.__setattr__(self, "used_up", self.quantity * used)

    def line(self, counts):
        """The line for counts of kilograms, cartons and consignments."""
        count, for_each = counts[self.basis], self.used_up
        if self.whole_units:
            count, for_each = rounded_up(self.quantity * count), self.used
        return cost_line(
            code=self.code,
            name=self.name,
            for_each=for_each,
            count=count,
            unit=self.unit or self.basis,
            rate=self.rate,
            priced_on=self.priced_on,
        )


@dataclass(frozen=True, kw_only=True)
class Softening:
    """What is expected to soften on the way, and what a kilogram fetches hard and soft, in minor units.

    Where a price is not known, softened fish counts as lost.
    """

    share: Fraction
    hard_price: int | None = None
    soft_price: int | None = None
    priced_on: date | None = None
    drip_share: Fraction = DRIP_SHARE
    kept: Fraction = field(init=False)
    sound: Fraction = field(init=False)

    def __post_init__(self):
        for name in ("share", "drip_share"):
            object.__setattr__(self, name, exact(name, getattr(self, name), most=1))
        if self.is_priced and whole("soft_price", self.soft_price) > whole("hard_price", self.hard_price):
            raise ValueError(f"soft_price must be at most {self.hard_price}, not {self.soft_price}")
        object.__setattr__(self, "kept", self.share * (1 - self.drip_share))
        lost = self.share * (self.drip_share if self.is_priced else 1)
        object.__setattr__(self, "sound", 1 - lost)

    @property
    def is_priced(self):
        return self.hard_price is not None and self.soft_price is not None

    def line(self, mass):
        """The line for fish of this mass kg: what arrives of the softened fish sells at a lower price."""
        drop, day = self.hard_price - self.soft_price, self.priced_on
        return cost_line(
            code="softening", for_each=self.kept, count=mass, unit="kg", rate=drop, priced_on=day
        )


@dataclass(frozen=True, kw_only=True)
class Cost:
    """The bill of a consignment of fish mass kg, and the sound kilograms that arrive of it."""

    lines: tuple[CostLine, ...]
    mass: Fraction
    cartons: int
    sound_mass: Fraction

    @property
    def total(self):
        """Minor units: the sum of the lines, exactly."""
        return sum(line.amount_minor for line in self.lines)

    @property
    def per_kilogram(self):
        """Minor units a sound kilogram, rounded up; None where nothing sound arrives."""
        if not self.sound_mass:
            return None
        return cost_per_sound_kilogram(self.total, sound_mass=self.sound_mass)

    @property
    def oldest_price(self):
        """The day on which the price was confirmed that has waited longest; None where no line is dated."""
        return min((line.priced_on for line in self.lines if line.priced_on), default=None)


def cost(*, mass, cartons, items, fare=(), softening=None):
    """The whole bill of a consignment.

    mass        number      kg   of the fish, > 0
    cartons     int         –    ≥ 1
    items       (n,)        –    Item
    fare        (m,)        –    CostLine of `tariff.fare`
    softening   Softening   –    None where none is expected

    Returns Cost.
    Raises ValueError that names the argument and the value that is out of range.
    Source: No source: addition.
    """
    mass = positive("mass", mass, most=MOST_MASS)
    lines = cost_lines(mass=mass, cartons=cartons, items=items, fare=fare, softening=softening)
    arrives = sound_mass(mass, softening=softening)
    return Cost(lines=lines, mass=mass, cartons=cartons, sound_mass=arrives)


def cost_lines(*, mass, cartons, items, fare=(), softening=None):
    """The lines of a bill, from the freezer to the buyer.

    mass        number      kg   of the fish, > 0
    cartons     int         –    ≥ 1
    items       (n,)        –    Item
    fare        (m,)        –    CostLine of `tariff.fare`
    softening   Softening   –    None where none is expected

    Returns tuple of CostLine in the order of ORDER; their sum is the total, exactly.
    Raises ValueError that names the argument and the value that is out of range.
    Source: No source: each line is quantity × rate; 2.65 % drip as DRIP_SHARE says.
    """
    mass = positive("mass", mass, most=MOST_MASS)
    cartons = whole("cartons", cartons, least=1, most=MOST_CARTONS)
    counts = {"consignment": 1, "carton": cartons, "kilogram": mass}
    lines = [*(item.line(counts) for item in items), *fare]
    if softening is not None and softening.is_priced and softening.share:
        lines.append(softening.line(mass))
    return tuple(sorted(lines, key=lambda line: RANK[line.code]))


def sound_mass(mass, *, softening=None):
    """Kilograms that arrive and that the cost is divided by.

    mass        number      kg   of the fish when it leaves, > 0
    softening   Softening   –    None where none is expected

    Returns Fraction kg. Drip is taken off. Softened kilograms count where their line has already paid for the
        lower price: leaving them out too would charge one loss twice. Where no price is known they do not.
    Raises ValueError for a mass that is not positive, or absurd.
    Source: No source: selling all that arrives, hard and soft, at these prices then covers the cost exactly
        when the price of hard fish is the cost of a sound kilogram.
    """
    mass = positive("mass", mass, most=MOST_MASS)
    return mass if softening is None else mass * softening.sound


def cost_per_sound_kilogram(total, *, sound_mass):
    """What a sound kilogram costs at the buyer's.

    total        int      minor units   of the consignment
    sound_mass   number   kg            > 0

    Returns int minor units a kilogram, rounded up: what is shown as cost is never too low.
    Raises ValueError for a sound mass that is not positive.
    Source: No source: definition.
    """
    mass = positive("sound_mass", sound_mass, most=MOST_MASS)
    return -(-total * mass.denominator // mass.numerator)
