"""From the closing of a carton to its hand-over: each step is written down once and stays."""

from datetime import datetime, timedelta

from django.db import transaction
from django.utils import timezone

from coop.errors import Conflict, NotSafe, Problem, invalid
from coop.models import Member, Parcel, ParcelCarton, ParcelState
from coop.selectors.parcel_judgement import ParcelJudge, fill_of, local_day
from coop.selectors.parcels import carton_at, parcel_named
from coop.selectors.placement import apart
from coop.selectors.separations import pairs_apart
from coop.selectors.terms import terms_on
from coop.services.locking import lock
from coop.services.parcel_closing import close_if_last
from coop.services.parcels import open_parcel_of
from coop.services.roles import require_own, require_packer
from coop.services.writing import written

CLOCKS_APART = timedelta(minutes=5)
"""The clock of a phone may be ahead of the server's by this much."""


@transaction.atomic
def close_carton(
    *,
    by: Member,
    carton: ParcelCarton,
    gross_mass_kg: float | None = None,
    core_temperature_c: float | None = None,
    closed_at: datetime | None = None,
    now: datetime | None = None,
) -> Parcel:
    """Closes a carton with what it holds, if that is safe; with the last one that has fish the parcel closes.

    It is judged with its own kilograms, its warmest fish (a core that was measured warmer than its lots were
    said to be counts instead), each species in it, and the hour at which it closes, now unless it was written
    down before. Closed later than planned it is judged as if closed as planned, which is warmer, and has to
    make the last safe hour.
    """
    cooperative, now = lock(by.cooperative), now or timezone.now()
    require_packer(by, "close a carton")
    parcel = open_parcel_of(by, carton.parcel)
    carton = carton_at(parcel, carton.position)
    parts = carton.parts.all()
    require_open_with_fish(carton, parts)
    at = closed_at or now
    require_past("closed_at", at, now)
    at = within_the_minute(at, max(part.lot.ready_at for part in parts))
    require_ready(parts, at)
    require_together(parcel, carton, parts)

    judged = judged_as_closed(parcel, parts, core_temperature_c, at)
    require_heavier(gross_mass_kg, judged.fill.mass_kg)

    carton.closed_at, carton.closed_by = at, by
    carton.gross_mass_kg, carton.core_temperature_c = gross_mass_kg, core_temperature_c
    carton.chance_hard = judged.chance_hard
    carton.latest_safe_departure_at = judged.latest_safe_departure_at
    written(carton)
    close_if_last(parcel, by=by, at=now)
    return parcel_named(cooperative, parcel.uuid)


@transaction.atomic
def record_departure(
    *,
    by: Member,
    parcel: Parcel,
    departed_at: datetime,
    driver: str = "",
    plate: str = "",
    note: str = "",
    now: datetime | None = None,
) -> Parcel:
    """Writes down that a closed parcel left. Leaving too late is a fact, too: `left_too_late` tells of it."""
    cooperative, now = lock(by.cooperative), now or timezone.now()
    require_packer(by, "record a departure")
    parcel = parcel_in(by, parcel, ParcelState.CLOSED, "leaves after all of its cartons are closed")
    require_past("departed_at", departed_at, now)
    departed_at = within_the_minute(departed_at, parcel.closed_at)
    require_after("departed_at", departed_at, parcel.closed_at, "the last carton closed")

    parcel.state, parcel.departed_at = ParcelState.DEPARTED, departed_at
    parcel.driver, parcel.plate, parcel.departed_note = driver, plate, note
    written(parcel)
    return parcel_named(cooperative, parcel.uuid)


@transaction.atomic
def record_hand_over(
    *,
    by: Member,
    parcel: Parcel,
    handed_over_at: datetime,
    is_hard: bool,
    arrived_at: datetime | None = None,
    soft_kg: float | None = None,
    core_temperature_c: float | None = None,
    received_by: str = "",
    note: str = "",
    now: datetime | None = None,
) -> Parcel:
    """Writes down how a parcel that left was handed over: hard or not, and how much had softened."""
    cooperative, now = lock(by.cooperative), now or timezone.now()
    require_packer(by, "record a hand-over")
    parcel = parcel_in(by, parcel, ParcelState.DEPARTED, "is handed over after it left")
    require_past("handed_over_at", handed_over_at, now)
    arrived_at = arrived_at and within_the_minute(arrived_at, parcel.departed_at)
    handed_over_at = within_the_minute(handed_over_at, arrived_at or parcel.departed_at)
    require_after("handed_over_at", handed_over_at, arrived_at or parcel.departed_at, "it arrived")
    if arrived_at:
        require_after("arrived_at", arrived_at, parcel.departed_at, "it left")
    soft_kg = soft_mass(parcel, is_hard, soft_kg)

    parcel.state, parcel.handed_over_at, parcel.arrived_at = (
        ParcelState.HANDED_OVER,
        handed_over_at,
        arrived_at,
    )
    parcel.is_hard, parcel.soft_kg, parcel.core_temperature_c = is_hard, soft_kg, core_temperature_c
    parcel.received_by, parcel.handed_over_note = received_by, note
    written(parcel)
    return parcel_named(cooperative, parcel.uuid)


def judged_as_closed(parcel, parts, measured_c, at):
    """Judged of what a carton really holds; unsafe is refused."""
    fill = fill_of(parts, measured_c=measured_c)
    judged = ParcelJudge([parcel]).judged(parcel, fill, closes_at=at)
    if not judged.is_safe:
        raise NotSafe(
            f"It is not safe to close this carton: it {judged.words}.",
            Problem("carton", at.isoformat(), judged.words, right_instead(judged)),
            judged=judged,
        )
    lead = timedelta(minutes=terms_on(parcel.cooperative, local_day(parcel)).closing_lead_minutes)
    latest = max(judged.latest_safe_departure_at or parcel.departs_at, parcel.departs_at)
    last = latest - lead
    if at > last:
        raise NotSafe(
            "It is too late to close this carton for this departure.",
            Problem("closed_at", at.isoformat(), "is too late to leave safely", f"by {last.isoformat()}"),
            judged=judged,
        )
    return judged


def right_instead(judged):
    earliest = judged.departure and judged.departure.close_no_earlier_than
    if judged.reason == "closed_too_early" and earliest:
        return f"closed no earlier than {earliest.isoformat()}"
    return "more or colder fish in it, or another departure"


def require_open_with_fish(carton, parts):
    if carton.closed_at:
        wrong = Problem("carton", carton.position, "is closed already", "an open carton")
        raise Conflict("A carton that is closed never changes.", wrong)
    if not parts:
        wrong = Problem("carton", carton.position, "is empty", "a carton with fish")
        raise Conflict("An empty carton is not closed.", wrong)


def require_past(field, instant, now):
    if instant > now + CLOCKS_APART:
        raise invalid(field, instant, "has not come yet", f"until {now.isoformat()}")


def within_the_minute(instant, before):
    """People write hours to the minute: what they write in the minute of what came before came after it."""
    return before if instant == before.replace(second=0, microsecond=0) else instant


def require_after(field, instant, before, what):
    if instant < before:
        raise invalid(field, instant, f"is before {what}", f"from {before.isoformat()} on")


def require_ready(parts, at):
    late = next((part.lot for part in parts if part.lot.ready_at > at), None)
    if late:
        wrong = Problem(
            "lot", str(late.uuid), f"is ready only at {late.ready_at.isoformat()}", "a later hour"
        )
        raise Conflict(f"The lot of {late.member} is not ready yet.", wrong)


def require_together(parcel, carton, parts):
    """What was put together may have been told apart since."""
    pairs = pairs_apart(parcel.cooperative_id)
    for part in parts:
        for species in apart([carton], part.lot, pairs).get(carton.pk, ()):
            wrong = Problem(
                "carton", carton.position, f"holds {part.lot.species} beside {species}", "not both"
            )
            raise Conflict(f"{part.lot.species} may not share a carton with {species}.", wrong)


def require_heavier(gross_mass_kg, mass_kg):
    if gross_mass_kg is not None and not gross_mass_kg > mass_kg:
        right = f"more than the {mass_kg:g} kg of fish in it"
        raise invalid("gross_mass_kg", gross_mass_kg, "is less than the fish in it weighs", right)


def parcel_in(by, parcel, state, words):
    """The parcel as it is now, if it is of her cooperative and in a state."""
    require_own(by, parcel)
    parcel = parcel_named(by.cooperative, parcel.uuid)
    if parcel.state != state:
        wrong = Problem("parcel", str(parcel.uuid), f"is {parcel.state}", f"a parcel that is {state}")
        raise Conflict(f"A parcel {words}.", wrong)
    return parcel


def soft_mass(parcel, is_hard, soft_kg):
    """Kilograms that had softened: none of hard fish unless some are named."""
    if soft_kg is None and is_hard:
        return 0.0
    least = 0 if is_hard else 0.001
    if soft_kg is None or not least <= soft_kg <= parcel.mass_kg:
        right = f"{least:g} to {parcel.mass_kg:g} kg"
        raise invalid("soft_kg", soft_kg, "is missing, or not as much as can have softened", right)
    return round(soft_kg, 3)
