"""What a carrier takes for a consignment: dated rules that add up, each with its own line."""

from dataclasses import dataclass, field
from datetime import date, datetime
from fractions import Fraction
from itertools import pairwise
from typing import ClassVar, NamedTuple

from coop.engines.money import MOST_CARTONS, MOST_MASS, cost_line, exact, positive, rounded_up, whole

DIVISOR = 6000
"""cm³ that count as a kilogram: common practice of carriers."""
MOST_SIDE = 10
MOST_SEATS = 20


@dataclass(frozen=True, kw_only=True)
class Consignment:
    """What a carrier is handed: cartons of one kind, weighed together closed and packed.

    gross_mass kg of all cartons; outer sides m of one; empties: boxes brought back, fewer on average if some
    get lost.
    """

    gross_mass: Fraction
    cartons: int
    outer_length: Fraction
    outer_width: Fraction
    outer_height: Fraction
    empties: Fraction = Fraction(0)

    def __post_init__(self):
        _set(self, cartons=whole("cartons", self.cartons, least=1, most=MOST_CARTONS))
        _set(self, gross_mass=positive("gross_mass", self.gross_mass, most=MOST_MASS))
        for side in ("outer_length", "outer_width", "outer_height"):
            _set(self, **{side: positive(side, getattr(self, side), most=MOST_SIDE)})
        _set(self, empties=exact("empties", self.empties, most=self.cartons))

    @property
    def volume(self):
        """m³ of all cartons, outside."""
        return self.cartons * self.outer_length * self.outer_width * self.outer_height


class Step(NamedTuple):
    """From this mass kg on, up to the next step, this amount in minor units."""

    from_mass: Fraction
    amount: int


@dataclass(frozen=True, kw_only=True)
class Rule:
    """An amount in minor units for each unit; a charge below the minimum becomes the minimum."""

    amount: int
    minimum_charge: int = 0
    code: ClassVar[str]
    unit: ClassVar[str]

    def __post_init__(self):
        _set(self, amount=whole("amount", self.amount))
        _set(self, minimum_charge=whole("minimum_charge", self.minimum_charge))

    def line(self, consignment, priced_on):
        """The line of this rule, or None where nothing is charged for, such as empties that stay."""
        quantity, unit, rate = self.basis(consignment)
        if not quantity:
            return None
        if self.minimum_charge and quantity * rate < self.minimum_charge:
            quantity, unit, rate = 1, "minimum", self.minimum_charge
        return cost_line(code=self.code, for_each=quantity, unit=unit, rate=rate, priced_on=priced_on)

    def basis(self, consignment):
        """Quantity, unit and rate before the minimum; each kind of rule has its own quantity."""
        return self.quantity(consignment), self.unit, self.amount


@dataclass(frozen=True, kw_only=True)
class PerCarton(Rule):
    """For each carton."""

    code, unit = "fare_per_carton", "carton"

    def quantity(self, consignment):
        return consignment.cartons


@dataclass(frozen=True, kw_only=True)
class PerKilogram(Rule):
    """For each kilogram of gross mass; a lighter consignment pays for the minimum mass kg.

    The unit tells what decided: the scale, the minimum mass or, below, the volume.
    """

    minimum_mass: Fraction = Fraction(0)
    code = "fare_per_kilogram"

    def __post_init__(self):
        super().__post_init__()
        _set(self, minimum_mass=exact("minimum_mass", self.minimum_mass, most=MOST_MASS))

    def basis(self, consignment):
        mass, unit = max(self.claims(consignment), key=lambda claim: claim[0])
        return mass, unit, self.amount

    def claims(self, consignment):
        """Masses of which the greatest is charged."""
        return [(consignment.gross_mass, "kg"), (self.minimum_mass, "kg_at_least")]


@dataclass(frozen=True, kw_only=True)
class PerVolume(Rule):
    """For each cubic metre that the cartons take up."""

    code, unit = "fare_per_volume", "m3"

    def quantity(self, consignment):
        return consignment.volume


@dataclass(frozen=True, kw_only=True)
class PerVolumetricKilogram(PerKilogram):
    """For each whole kilogram begun, of the gross mass or of what the volume counts as, whichever is more."""

    divisor: Fraction = Fraction(DIVISOR)
    code = "fare_per_volumetric_kilogram"

    def __post_init__(self):
        super().__post_init__()
        _set(self, divisor=exact("divisor", self.divisor, least=1000, most=20_000))

    def claims(self, consignment):
        sides = (consignment.outer_length, consignment.outer_width, consignment.outer_height)
        by_volume = consignment.cartons * volumetric_mass(sides, divisor=self.divisor)
        masses = [*super().claims(consignment), (by_volume, "kg_by_volume")]
        return [(rounded_up(mass), unit) for mass, unit in masses]


@dataclass(frozen=True, kw_only=True)
class PerSeat(Rule):
    """For each rider's seat that the cartons take."""

    seats_per_carton: int
    code, unit = "fare_per_seat", "seat"

    def __post_init__(self):
        super().__post_init__()
        _set(
            self, seats_per_carton=whole("seats_per_carton", self.seats_per_carton, least=1, most=MOST_SEATS)
        )

    def quantity(self, consignment):
        return consignment.cartons * self.seats_per_carton


@dataclass(frozen=True, kw_only=True)
class ReturnOfEmpty(Rule):
    """For each empty box that is brought back."""

    code, unit = "return_of_empty", "box"

    def quantity(self, consignment):
        return consignment.empties


@dataclass(frozen=True, kw_only=True)
class ByStep(Rule):
    """By steps of gross mass, the first from 0 kg: for the whole consignment or for each of its kilograms."""

    amount: int = field(default=0, init=False)
    steps: tuple[Step, ...]
    per_kilogram: bool = False
    code = "fare_by_step"

    def __post_init__(self):
        super().__post_init__()
        steps = tuple(
            Step(exact("from_mass", start, most=MOST_MASS), whole("amount", amount))
            for start, amount in self.steps
        )
        starts = [step.from_mass for step in steps]
        if not starts or starts[0] != 0:
            raise ValueError(f"steps must begin at 0 kg, not at {float(starts[0]) if starts else 'none'}")
        if any(later <= earlier for earlier, later in pairwise(starts)):
            raise ValueError(f"steps must rise, not {[float(start) for start in starts]}")
        _set(self, steps=steps)

    def basis(self, consignment):
        """The last step that the gross mass has reached; it holds at its border already."""
        mass = consignment.gross_mass
        amount = next(step.amount for step in reversed(self.steps) if step.from_mass <= mass)
        return (mass, "kg", amount) if self.per_kilogram else (1, "step", amount)


@dataclass(frozen=True, kw_only=True)
class Surcharge:
    """A share of the sum of all other rules, in some months of the year or, if none is named, in all."""

    share: Fraction
    months: tuple[int, ...] = ()
    code: ClassVar[str] = "fare_surcharge"

    def __post_init__(self):
        _set(self, share=exact("share", self.share, least=-1, most=10))
        _set(self, months=tuple(whole("months", month, least=1, most=12) for month in self.months))

    def line(self, base, on, priced_on):
        """The line on a base in minor units, or None in a month that it leaves out."""
        if self.months and on.month not in self.months:
            return None
        return cost_line(code=self.code, for_each=self.share, unit="share", rate=base, priced_on=priced_on)


@dataclass(frozen=True, kw_only=True)
class Tariff:
    """Rules that count from a day on until before another one, which is None while nobody knows it."""

    rules: tuple[Rule | Surcharge, ...]
    valid_from: date
    valid_until: date | None = None
    confirmed_on: date | None = None

    def __post_init__(self):
        _set(self, rules=tuple(self.rules))
        if not any(isinstance(rule, Rule) for rule in self.rules):
            raise ValueError(f"rules must hold one that is no share on top, not {self.rules}")
        if self.valid_until is not None and self.valid_until <= self.valid_from:
            raise ValueError(f"valid_until must be after {self.valid_from}, not {self.valid_until}")


def volumetric_mass(sides, *, divisor=DIVISOR):
    """Mass that the volume of a carton counts as, before it is rounded up to a whole kilogram.

    sides     (3,)     m           outer length, width, height, > 0
    divisor   number   cm³ a kg    > 0

    Returns Fraction kg.
    Raises ValueError for a side or divisor that is not positive, or absurd.
    Source: common practice of carriers, length × width × height / 6000 in cm.
    """
    length, width, height = (positive("sides", side, most=MOST_SIDE) for side in sides)
    return length * width * height * 10**6 / positive("divisor", divisor, most=10**6)


def fare(tariff, *, consignment, on):
    """What the carrier takes, line by line.

    tariff        Tariff        –
    consignment   Consignment   –   gross mass and sides as the carrier weighs and measures them
    on            date          –   day of departure

    Returns tuple of CostLine, one for each rule that charges something; shares on top come last, each of the
        sum of all other lines, so several do not compound.
    Raises ValueError for a day before valid_from, or on or after valid_until.
    Source: No source: addition; each rule is common practice of carriers.
    """
    if not isinstance(on, date) or isinstance(on, datetime):
        raise ValueError(f"on must be a day, not {on!r}")
    if on < tariff.valid_from or (tariff.valid_until is not None and on >= tariff.valid_until):
        raise ValueError(f"on must lie from {tariff.valid_from} until before {tariff.valid_until}, not {on}")
    plain = [rule for rule in tariff.rules if isinstance(rule, Rule)]
    on_top = [rule for rule in tariff.rules if isinstance(rule, Surcharge)]
    lines = [rule.line(consignment, tariff.confirmed_on) for rule in plain]
    base = sum(line.amount_minor for line in lines if line)
    lines += [rule.line(base, on, tariff.confirmed_on) for rule in on_top]
    return tuple(line for line in lines if line)


def _set(frozen, **values):
    for name, value in values.items():
        object.__setattr__(frozen, name, value)
