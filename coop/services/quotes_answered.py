"""What a buyer does with a quote that a link opened: accept so many kilograms, decline, or ask."""

from datetime import datetime

from django.db import transaction
from django.utils import timezone

from coop.errors import Conflict, Gone, NoRoom, NotSafe, Problem, invalid
from coop.models import Becomes, Quote, QuoteQuestion, QuoteState
from coop.models.parcels import rounded_kg
from coop.selectors.cartons import carton_designs_of
from coop.selectors.parcel_judgement import ParcelJudge
from coop.selectors.parcels import open_parcels_between, parcel_named, places_left
from coop.selectors.quotes import most_left, quote_behind
from coop.selectors.quotes_figures import day_of, fish_of, parcel_for
from coop.selectors.timetables import timetables_of
from coop.services.locking import lock
from coop.services.lots import require_sensible
from coop.services.parcels import join_parcel, open_parcel
from coop.services.quotes import lot_of
from coop.services.roles import packs
from coop.services.secret_links import digest_of
from coop.services.writing import written

MOST_QUESTIONS = 20
"""About one quote; whoever asks more should call. Common practice, no source."""


def accept_quote(*, secret: str, kg: float, name: str, note: str = "", now: datetime | None = None) -> Quote:
    """Takes so many kilograms of a quote, which become a lot or a parcel.

    Of one that was made from a lot they are promised from then on: that lot has so much less left.
    The same acceptance again changes nothing. Who comes second hears how much is left (Gone).
    """
    asked = {"secret": secret, "kg": kg, "name": name, "note": note, "now": now}
    quote = quote_behind(digest_of(secret), now or timezone.now())
    if quote.state == QuoteState.ISSUED and _rung(quote, kg):
        # Judged before anybody has to wait for the lock: behind it the same is answered from memory.
        _judged(quote, kg)
    return _accept(**asked)


@transaction.atomic
def _accept(*, secret, kg, name, note, now):
    quote, now = _locked(secret, now)
    if quote.state == QuoteState.ACCEPTED and quote.accepted_kg == kg:
        return quote
    _require_open(quote, now)
    rung = _require_rung(quote, kg)
    _require_left(quote, kg)
    _require_same_fish(quote)
    _require_sellers(quote)
    _require_safe(quote, kg)
    timetable = _timetable(quote)

    deliver_by = quote.figures["deliver_by"]
    lot = lot_of(quote, kg, deliver_by and datetime.fromisoformat(deliver_by), now)
    require_sensible(lot, now)
    # Over several cartons it travels in parts.
    lot.may_be_split = rung["cartons"] > 1
    quote.lot = written(lot)
    if quote.becomes == Becomes.PARCEL:
        quote.parcel = _packed(quote, timetable, rung, now)
    else:
        _require_place(quote, timetable, rung, kg)

    quote.state, quote.answered_at, quote.accepted_kg = QuoteState.ACCEPTED, now, kg
    quote.answered_by_name, quote.note = name, note
    written(quote)
    return quote_behind(quote.secret_digest, now)


@transaction.atomic
def decline_quote(*, secret: str, name: str = "", note: str = "", now: datetime | None = None) -> Quote:
    """Says no to a quote; a second time changes nothing."""
    quote, now = _locked(secret, now)
    if quote.state == QuoteState.DECLINED:
        return quote
    _require_open(quote, now)

    quote.state, quote.answered_at = QuoteState.DECLINED, now
    quote.answered_by_name, quote.note = name, note

    written(quote)
    return quote_behind(quote.secret_digest, now)


@transaction.atomic
def ask(*, secret: str, text: str, name: str = "", now: datetime | None = None) -> QuoteQuestion:
    """Keeps what a buyer asks about a quote that counts; the same words again are the same question."""
    quote, now = _locked(secret, now)
    asked = list(quote.questions.all())
    if same := next((one for one in asked if one.text == text), None):
        return same
    if quote.state != QuoteState.ACCEPTED:
        _require_open(quote, now)
    if len(asked) >= MOST_QUESTIONS:
        wrong = Problem("text", None, f"would be more than {MOST_QUESTIONS} questions", "a call")
        raise Conflict("So many questions were asked about this quote already.", wrong)

    return written(QuoteQuestion(quote=quote, asked_at=now, name=name, text=text))


def _locked(secret, now):
    """The quote of a link as it is once everybody before has done, and the instant then."""
    digest = digest_of(secret)
    found = quote_behind(digest, now or timezone.now())
    lock(found.cooperative)
    now = now or timezone.now()
    # Read anew: in between its link may have been renewed, or somebody may have been first.
    return quote_behind(digest, now), now


def _require_open(quote, now):
    if quote.shown_state != QuoteState.ISSUED:
        state = quote.shown_state
        wrong = Problem("quote", str(quote.uuid), f"is {state}", "a quote that counts")
        raise Conflict(f"This quote is {state}.", wrong)


def _rung(quote, kg):
    return next((rung for rung in quote.figures["rungs"] if rung["kg"] == kg), None)


def _require_rung(quote, kg):
    rung = _rung(quote, kg)
    if rung is None:
        right = (
            f"{quote.least_kg:g} to {quote.most_kg:g} kg by {quote.figures['step_kg']:g} kg, as it lists them"
        )
        raise invalid("kg", kg, "is not offered", right)
    return rung


def _require_left(quote, kg):
    left = rounded_kg([quote.left_kg])
    if kg > left:
        raise _gone(quote, kg, most_left(quote) or 0.0)


def _gone(quote, kg, left_kg):
    right = f"at most {left_kg:g} kg" if left_kg else "another quote"
    wrong = Problem("kg", kg, "is more than is left", right)
    return Gone(f"There are {left_kg:g} kg left only.", wrong, left_kg=left_kg)


def _require_same_fish(quote):
    """The lot that it was made from is still what was quoted."""
    supply, lot = quote.supply, quote.supply.lot
    same = ("species_id", "frozen_since", "ready_at", "start_temperature_c")
    if lot and any(getattr(supply, name) != getattr(lot, name) for name in same):
        wrong = Problem("quote", str(quote.uuid), "is of fish that is told otherwise by now", "another quote")
        raise Conflict("The lot that this quote was made from has changed.", wrong)


def _require_sellers(quote):
    """Whoever sells and whoever promised are still there, and may still promise that."""
    seller, maker = quote.supply.member, quote.made_by
    may = maker.pk == seller.pk or packs(maker)
    if quote.becomes == Becomes.PARCEL:
        may = packs(maker)
    if seller.left_on or maker.left_on or not may:
        wrong = Problem("quote", str(quote.uuid), "is of somebody who no longer sells", "ask the seller")
        raise Conflict("Whoever made this quote no longer sells here.", wrong)


def _judged(quote, kg):
    """Judged of one of the cartons that so many kilograms would travel in."""
    figures = quote.figures
    deliver_by = figures["deliver_by"] and datetime.fromisoformat(figures["deliver_by"])
    parcel = parcel_for(quote, datetime.fromisoformat(figures["closes_at"]))
    parcel.design = _design(quote)
    in_each = round(kg / _rung(quote, kg)["cartons"], 3)
    return ParcelJudge([parcel]).judged(parcel, fish_of(quote.supply, deliver_by, in_each))


def _require_safe(quote, kg):
    judged = _judged(quote, kg)
    if not judged.is_safe:
        wrong = Problem("kg", kg, f"the carton {judged.words}", "another quote")
        raise NotSafe(f"By what is known today the carton {judged.words}.", wrong, judged=judged)


def _timetable(quote):
    """The row of its timetable that counts on the day: another may have taken its place since."""
    day = day_of(quote)
    rows = timetables_of(quote.cooperative).filter(route=quote.route).on(day)
    found = next((row for row in rows if row.leaves_like(quote.timetable)), None)
    if found is None or day.weekday() not in found.weekdays:
        wrong = Problem("quote", str(quote.uuid), "is for a departure that is no more", "another quote")
        raise Conflict("This departure is in no timetable any more.", wrong)
    return found


def _design(quote):
    """The version of its carton that counts on the day: what will be packed is judged."""
    if quote.design.counts_on(day_of(quote)):
        return quote.design
    versions = carton_designs_of(quote.cooperative).on(day_of(quote)).filter(slug=quote.design.slug)
    found = versions.first()
    if found is None:
        wrong = Problem("quote", str(quote.uuid), "is for a carton that is packed no more", "another quote")
        raise Conflict("Such cartons are packed no more.", wrong)
    return found


def _packed(quote, timetable, rung, now):
    """A parcel with the lot in it, shared out evenly; for want of places it is gone."""
    try:
        parcel = open_parcel(
            by=quote.made_by,
            timetable=timetable,
            date=day_of(quote),
            design=_design(quote),
            buyer=quote.buyer,
            cartons=rung["cartons"],
            now=now,
        )
    except Conflict as full:
        raise _gone(quote, quote.lot.mass_kg, 0.0) from full
    for position, mass_kg in enumerate(evenly(quote.lot.mass_kg, rung["cartons"]), start=1):
        try:
            joining = {"lot": quote.lot, "mass_kg": mass_kg, "carton": position, "now": now}
            join_parcel(by=quote.made_by, parcel=parcel, **joining)
        except NoRoom as full:
            raise _gone(quote, quote.lot.mass_kg, 0.0) from full
    return parcel_named(quote.cooperative, parcel.uuid)


def evenly(mass_kg, cartons):
    """Kilograms for each carton, to the gram; they sum to the mass."""
    whole, over = divmod(round(mass_kg * 1000), cartons)
    return [(whole + (number < over)) / 1000 for number in range(cartons)]


def _require_place(quote, timetable, rung, kg):
    """A lot takes no place yet, but one must be left: own cartons, or room in those of others."""
    if places_left(timetable, quote.departs_at) >= rung["cartons"]:
        return
    at = quote.departs_at
    beside = open_parcels_between(quote.cooperative, quote.route, quote.buyer, begins_at=at, ends_at=at)
    if not any(parcel.room_kg >= kg for parcel in beside):
        raise _gone(quote, kg, 0.0)
