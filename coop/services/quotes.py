"""Quotes are made, linked and revoked by those whose fish they sell."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import NamedTuple
from uuid import UUID

from django.db import transaction
from django.utils import timezone

from coop.errors import Conflict, NotAllowed, Problem, invalid
from coop.models import (
    Becomes,
    Buyer,
    CartonDesign,
    Lot,
    Member,
    ProfitKind,
    Quote,
    QuoteState,
    Species,
    Supply,
    Timetable,
)
from coop.models.lots import LOT_KG
from coop.models.quotes import MOST_MARGIN, PROFIT
from coop.selectors.cartons import carton_designs_of
from coop.selectors.cost import prices_for
from coop.selectors.lots import lot_named
from coop.selectors.quotes import quote_named, supplies_of
from coop.selectors.quotes_figures import figures_of
from coop.selectors.terms import terms_on
from coop.services.locking import lock
from coop.services.lots import require_for, require_offered, require_sensible, to_the_gram
from coop.services.parcels import OPENED_WITHIN, departure_of, require_buyer_there, require_counting
from coop.services.roles import packs, require_own, require_packer
from coop.services.secret_links import new_secret
from coop.services.writing import checked, first_answer, identified, written


@dataclass(frozen=True, kw_only=True)
class Fish:
    """A new supply: whose, what, and how it was frozen."""

    member: Member
    species: Species
    mass_kg: float
    frozen_since: datetime
    ready_at: datetime
    start_temperature_c: float


@dataclass(frozen=True, kw_only=True)
class Wanted:
    """What a quote is asked for: a supply that is there already, a lot, or fish that is neither yet."""

    becomes: str
    buyer: Buyer
    timetable: Timetable
    date: date
    design: CartonDesign
    profit_kind: str
    profit_share: float
    language: str
    supply: Supply | None = None
    fish: Fish | None = None
    lot: Lot | None = None
    valid_until: datetime | None = None
    deliver_by: datetime | None = None


class Issued(NamedTuple):
    """A quote, and the secret of its link, which is told this once; None where it was made before."""

    quote: Quote
    secret: str | None


def preview_quote(*, by: Member, wanted: Wanted, now: datetime | None = None) -> Quote:
    """The quote as it would be issued; nothing is written."""
    return _worked_out(by, wanted, now or timezone.now())


def make_quote(
    *, by: Member, wanted: Wanted, uuid: UUID | None = None, now: datetime | None = None
) -> Issued:
    """Issues a quote; the same id again gives the first one, without its secret.

    A member quotes her own fish, as a lot; whoever packs anybody's, as a parcel too.
    """
    # Judged before anybody has to wait for the lock: behind it the same is answered from memory.
    if not _issued_before(by, uuid):
        _worked_out(by, wanted, now or timezone.now())
    return _issue(by, wanted, uuid, now)


@transaction.atomic
def _issue(by, wanted, uuid, now):
    cooperative = lock(by.cooperative)
    if found := _issued_before(by, uuid):
        return Issued(quote_named(cooperative, found.uuid, now or timezone.now()), None)
    # Behind the lock no price changes any more: what was known at this instant is what the quote rests on.
    now = now or timezone.now()

    quote = _worked_out(by, wanted, now)
    secret, quote.secret_digest = new_secret()

    if quote.supply.pk is None:
        quote.supply = written(quote.supply)
    for name, value in identified(uuid).items():
        setattr(quote, name, value)
    return Issued(quote_named(cooperative, written(quote).uuid, now), secret)


@transaction.atomic
def renew_link(*, by: Member, quote: Quote, now: datetime | None = None) -> Issued:
    """A new link; the old one is dead from now on."""
    quote = _own_quote(by, quote, now or timezone.now())
    if quote.shown_state not in (QuoteState.ISSUED, QuoteState.ACCEPTED):
        wrong = Problem("quote", str(quote.uuid), f"is {quote.shown_state}", "a quote that counts")
        raise Conflict(f"This quote is {quote.shown_state}: there is nothing to open.", wrong)

    secret, quote.secret_digest = new_secret()

    return Issued(quote_named(quote.cooperative, written(quote).uuid, now or timezone.now()), secret)


@transaction.atomic
def revoke_quote(*, by: Member, quote: Quote, now: datetime | None = None) -> Quote:
    """Takes a quote back, as long as nobody has answered it; a second time changes nothing."""
    now = now or timezone.now()
    quote = _own_quote(by, quote, now)
    if quote.state == QuoteState.REVOKED:
        return quote
    if quote.state != QuoteState.ISSUED:
        wrong = Problem("quote", str(quote.uuid), f"is {quote.state}", "a quote that nobody answered")
        raise Conflict(f"This quote is {quote.state}: it stays.", wrong)

    quote.state, quote.revoked_at = QuoteState.REVOKED, now

    return quote_named(quote.cooperative, written(quote).uuid, now)


def lot_of(quote: Quote, mass_kg, deliver_by, now) -> Lot:
    """The lot that so many kilograms of a quote become; not written."""
    supply = quote.supply
    return Lot(
        cooperative=quote.cooperative,
        member=supply.member,
        route=quote.route,
        buyer=quote.buyer,
        species=supply.species,
        mass_kg=to_the_gram(mass_kg),
        frozen_since=supply.frozen_since,
        ready_at=supply.ready_at,
        start_temperature_c=supply.start_temperature_c,
        deliver_by=deliver_by,
        offered_by=quote.made_by,
        offered_at=now,
    )


def closing_of(cooperative, departs_at, day):
    """When cartons of a departure are closed."""
    return departs_at - timedelta(minutes=terms_on(cooperative, day).closing_lead_minutes)


def _worked_out(by, wanted, now):
    """The quote with its figures, checked and not written."""
    require_own(by, wanted.buyer, wanted.timetable, wanted.design)
    cooperative, supply = by.cooperative, _supply(by, wanted, now)
    _require_may(by, supply, wanted.becomes)
    require_buyer_there(wanted.timetable, wanted.buyer)
    departs_at = departure_of(wanted.timetable, wanted.date, cooperative)
    require_counting(wanted.design, wanted.date)
    closes_at = closing_of(cooperative, departs_at, wanted.date)
    _require_hours(wanted, supply, closes_at, now)
    _require_profit(wanted)
    quote = Quote(
        cooperative=cooperative,
        supply=supply,
        buyer=wanted.buyer,
        route=wanted.timetable.route,
        timetable=wanted.timetable,
        # With all that goes into it: its bill is worked out for hundreds of weights.
        design=carton_designs_of(cooperative).get(pk=wanted.design.pk),
        departs_at=departs_at,
        becomes=wanted.becomes,
        made_by=by,
        issued_at=now,
        language=wanted.language,
        profit_kind=wanted.profit_kind,
        profit_share=wanted.profit_share,
    )
    require_sensible(lot_of(quote, supply.mass_kg, wanted.deliver_by, now), now)
    return _with_figures(quote, wanted, closes_at)


def _with_figures(quote, wanted, closes_at):
    prices = prices_for(quote.cooperative, quote.route, quote.buyer, quote.supply.species)
    figures = figures_of(
        quote, prices, closes_at=closes_at, deliver_by=wanted.deliver_by, asked_until=wanted.valid_until
    )
    quote.valid_until = datetime.fromisoformat(figures["valid_until"])
    quote.least_kg, quote.most_kg = (figures["rungs"][end]["kg"] for end in (0, -1))
    quote.figures = figures
    return quote


def _supply(by, wanted, now):
    if [wanted.supply, wanted.fish, wanted.lot].count(None) != 2:
        right = "one of a supply, a lot, and fish"
        raise invalid("supply", None, "is named twice or not at all", right)
    if wanted.supply is not None:
        require_own(by, wanted.supply)
        return supplies_of(by.cooperative).get(pk=wanted.supply.pk)
    lot = wanted.lot and _lot_with_fish(by, wanted.lot)
    fish = fish_of_lot(lot) if lot else wanted.fish
    require_own(by, fish.member)
    supply = Supply(cooperative=by.cooperative, entered_by=by, entered_at=now, lot=lot, **vars(fish))
    checked(supply)
    supply.mass_kg = to_the_gram(supply.mass_kg)
    return supply


def _lot_with_fish(by, lot):
    """The lot as it is now, with something left that nobody was promised and that lies in no carton."""
    require_own(by, lot)
    lot = lot_named(by.cooperative, lot.uuid)
    require_offered(lot)
    if to_the_gram(lot.left_kg) < LOT_KG.low:
        wrong = Problem("lot", str(lot.uuid), "lies in cartons or is promised, all of it", "another lot")
        raise Conflict("Nothing of this lot is left to quote.", wrong)
    return lot


def fish_of_lot(lot) -> Fish:
    """What is left of a lot, as a quote of now would sell it."""
    same = ("member", "species", "frozen_since", "ready_at", "start_temperature_c")
    return Fish(mass_kg=lot.left_kg, **{name: getattr(lot, name) for name in same})


def _require_may(by, supply, becomes):
    require_for(by, supply.member, "quote fish")
    if becomes == Becomes.PARCEL:
        require_packer(by, "quote a parcel")


def _require_hours(wanted, supply, closes_at, now):
    if not now < closes_at <= now + OPENED_WITHIN:
        right = f"a day on which it closes within {OPENED_WITHIN.days} days from now"
        raise invalid("date", wanted.date, "is over, or too far away", right)
    if supply.ready_at > closes_at:
        wrong = Problem("ready_at", supply.ready_at, "is after the carton closes", "a later departure")
        raise Conflict("The fish is not ready when the carton closes.", wrong)
    if wanted.valid_until and wanted.valid_until <= now:
        raise invalid("valid_until", wanted.valid_until, "is over", "an instant to come")


def _require_profit(wanted):
    most = MOST_MARGIN if wanted.profit_kind == ProfitKind.MARGIN else PROFIT.high
    if not PROFIT.low <= wanted.profit_share <= most:
        right = f"0 to {most:g} of the {'price' if most == MOST_MARGIN else 'cost'}"
        raise invalid("profit_share", wanted.profit_share, "is no such profit", right)


def _issued_before(by, uuid):
    return first_answer(Quote.objects.of(by.cooperative), uuid, made_by_id=by.pk)


def _own_quote(by, quote, now):
    """The quote as it is now, behind the lock, if she made it, it sells her fish, or she packs."""
    require_own(by, quote)
    quote = quote_named(lock(by.cooperative), quote.uuid, now)
    if by.pk not in (quote.made_by_id, quote.supply.member_id) and not packs(by):
        raise NotAllowed("Only a packer or a manager may do that with somebody else's quote.")
    return quote
