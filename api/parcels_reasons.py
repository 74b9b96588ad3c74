"""Why a carton of a parcel is not safe, and why fish was refused, in words with the figures behind them."""

from contextlib import contextmanager

from rest_framework import serializers

from api.departures_item import ReasonOut
from api.departures_reasons import reason_of
from api.rounding import minute_down, written
from coop.errors import NoRoom, NotSafe, Problem

LATE, STANDS = "left_too_late", "stands_too_long"


class ToldReasonOut(ReasonOut):
    language = serializers.CharField(help_text="of the words: the one asked for, or English")

    example = {**ReasonOut.example, "language": "en"}


def unsafe(judged, zone):
    """{code, values, words} of a selectors' Judged that is not safe, null of one that is."""
    if judged.is_safe:
        return None
    if judged.departure is not None:
        return reason_of(judged.departure, judged.question)
    return {"code": judged.reason, "values": values_of(judged), "words": words_of(judged)}


def values_of(judged):
    """What was judged, where no journey was followed."""
    fill = judged.fill
    return {"mass_kg": fill.mass_kg, "start_temperature_c": fill.start_temperature_c}


def words_of(judged):
    problem = judged.problem
    if problem is None:
        return f"The carton {judged.words}."
    return f"The carton cannot be judged: {problem.problem}; right is {problem.right}."


def overdue(carton, parcel, zone, now):
    """The reason of a closed carton that left after its last safe hour, or still stands there; else null."""
    latest, left = carton.latest_safe_departure_at, parcel.departed_at
    if latest is None or (left or now) <= latest:
        return None
    values = {
        "departed_at": written(left, zone),
        "latest_safe_departure_at": written(minute_down(latest), zone),
    }
    left, until = (instant and on_clock(instant) for instant in values.values())
    if left is None:
        words = f"It was safe to leave until {until} only: put the fish back into the freezer."
        return {"code": STANDS, "values": values, "words": words}
    words = f"It left at {left}; that was safe until {until} only: measure the fish."
    return {"code": LATE, "values": values, "words": words}


def on_clock(instant):
    return f"{instant[:10]} {instant[11:16]}"


@contextmanager
def told(zone):
    """A block whose refusals say more: the next departure that takes the fish, why a carton is not safe."""
    try:
        yield
    except NoRoom as full:
        offer = [] if full.offer is None else [offered(full.offer, zone)]
        problems = [*full.problems, *offer]
        raise NoRoom(full.message, *problems, room_kg=full.room_kg, offer=full.offer) from full
    except NotSafe as refused:
        reason = unsafe(refused.judged, zone)
        message = f"{refused.message} {reason['words']}" if reason else refused.message
        raise NotSafe(message, *refused.problems, judged=refused.judged) from refused


def offered(offer, zone):
    """The next departure as a Problem: its parcel if one is open, or else its id among the departures."""
    right = f"{on_clock(written(offer.departs_at, zone))}, {offer.carrier.name}"
    if offer.parcel is None:
        return Problem("departure", offer.key, "is the next departure that has room", right)
    return Problem("parcel", str(offer.parcel.uuid), "is the next parcel that has room", right)
