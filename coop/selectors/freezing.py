"""When fish that is put into a freezer is frozen through, how cold it is by closing, and what that takes."""

import math
from dataclasses import dataclass
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np

from coop.engines.freezing import COLDEST_AIR, WARMEST_AIR
from coop.engines.freezing_shape import SHAPES, Body
from coop.engines.money import half_up
from coop.engines.pull_down import (
    JOULES_IN_KILOWATT_HOUR,
    Freezer,
    core_after,
    electric_energy,
    energy_cost,
    pull_down,
    rated_extraction,
    time_to_core,
)
from coop.errors import invalid
from coop.models import Cooperative, Species
from coop.models import Freezer as FreezerRow
from coop.selectors.departures import rounded
from coop.selectors.engine_inputs import flesh_of
from coop.selectors.terms import terms_on

BODY_SHAPES = SHAPES
FREEZER_TOO_WARM, NOT_FROZEN_BY_CLOSING = "freezer_too_warm", "not_frozen_by_closing"


@dataclass(frozen=True)
class FreezingQuestion:
    """A lot that is put into a freezer at once with `besides_kg` of others' fish, as warm and as thick.

    A side that is not known is inf.
    """

    cooperative: Cooperative
    freezer: FreezerRow
    species: Species
    mass_kg: float
    besides_kg: float
    shape: str
    thickness_m: float
    width_m: float
    length_m: float
    initial_c: float
    put_in_at: datetime
    closes_at: datetime | None
    core_c: float

    @property
    def zone(self):
        return ZoneInfo(self.cooperative.time_zone)

    @property
    def body(self):
        sides = (side / self.thickness_m for side in (self.width_m, self.length_m))
        return Body(self.shape, self.thickness_m, *sides)


@dataclass(frozen=True)
class Freezing:
    """Cautious where nothing else is said. `ready_at` is None if the core never gets so cold.

    `core_at_closing_c` is None without a closing, and where the core is not surely below −10 °C by then.
    Energy and cost are those of the lot alone, until it is ready.
    """

    ready_at: datetime | None
    ready_at_best: datetime | None
    core_at_closing_c: float | None
    energy_kwh: float | None
    cost_minor: int | None
    reason: str | None


def freezing_of(question: FreezingQuestion) -> Freezing:
    """When a lot is ready, how cold it is when its carton is closed, and what freezing it costs."""
    _require_fit(question)
    careful = _curve(question)
    best = _curve(question, margin=0.0)
    time = float(time_to_core(careful, question.core_c))
    ready_at, ready_at_best = (
        _after(question.put_in_at, float(time_to_core(curve, question.core_c))) for curve in (careful, best)
    )
    energy = _energy(question, careful, time)
    core = _core_at_closing(question, careful)
    return Freezing(
        ready_at=ready_at,
        ready_at_best=ready_at_best,
        core_at_closing_c=core,
        energy_kwh=energy and energy / JOULES_IN_KILOWATT_HOUR,
        cost_minor=energy and half_up(
            energy_cost(energy, price=_terms(question).electricity_price_minor_per_kwh)
        ),
        reason=_reason(question, ready_at, core),
    )  # fmt: skip


def _terms(question):
    """Those of the day on which the fish is put in."""
    return terms_on(question.cooperative, question.put_in_at.astimezone(question.zone).date())


def _require_fit(question):
    row, mass = question.freezer, question.mass_kg + question.besides_kg
    air = row.air_temperature_c
    if not COLDEST_AIR <= air <= WARMEST_AIR:
        right = f"one whose air is {COLDEST_AIR:g} to {WARMEST_AIR:g} °C"
        raise invalid("freezer", row.slug, f"its air of {air:g} °C freezes no fish that is known", right)
    if mass > row.holds_kg:
        field = "mass_kg" if question.mass_kg > row.holds_kg else "besides_kg"
        problem = f"makes {mass:g} kg, more than {row.name} holds"
        raise invalid(field, getattr(question, field), problem, f"at most {row.holds_kg:g} kg in all")


def _curve(question, **options):
    flesh = flesh_of(question.species)
    row = question.freezer
    machine = Freezer(
        air=row.air_temperature_c,
        film=row.film_w_m2_k,
        extraction=rated_extraction(row.freezing_kg_per_day, flesh=flesh),
    )
    mass = question.mass_kg + question.besides_kg
    return pull_down(
        body=question.body, freezer=machine, mass=mass, initial=question.initial_c, flesh=flesh, **options
    )


def _after(instant, seconds):
    """An instant so many seconds on, rounded to later, or None where that is never."""
    return rounded(instant + timedelta(seconds=seconds), up=True) if math.isfinite(seconds) else None


def _core_at_closing(question, curve):
    if question.closes_at is None:
        return None
    inside = (question.closes_at - question.put_in_at).total_seconds()
    return float(core_after(curve, inside)) if inside >= curve.time[0] else None


def _energy(question, curve, time):
    """J of electricity for the lot alone until it is ready, None where it never is."""
    if not math.isfinite(time):
        return None
    mass = question.mass_kg
    heat = float(np.interp(time, curve.time, curve.heat)) * mass / (mass + question.besides_kg)
    row = question.freezer
    return float(
        electric_energy(
            heat=heat,
            time=time,
            coefficient_of_performance=row.coefficient_of_performance,
            # What the freezer takes in any case is shared by all the fish that it holds.
            standing=row.standing_w * mass / row.holds_kg,
        )
    )


def _reason(question, ready_at, core):
    if ready_at is None:
        return FREEZER_TOO_WARM
    if question.closes_at and (core is None or core > question.core_c):
        return NOT_FROZEN_BY_CLOSING
    return None
