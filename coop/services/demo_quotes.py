"""Quotes of the invented cooperative in every state around the moment of loading, made as people do."""

from datetime import timedelta

from coop.models import CartonDesign, Species
from coop.services.demo_parcels import KASAMA, LUSAKA, MPIKA, Landing, Trip
from coop.services.quotes import Fish, Wanted, make_quote, revoke_quote
from coop.services.quotes_answered import accept_quote, ask, decline_quote

BOX = "insulated-box"
# The last departure of each way has left; the next but one is still to come.
LEFT, COMING = 1, -3


def fill_quotes(cooperative, now) -> int:
    """Issued, accepted, declined, revoked and expired ones; their number. Their links are not kept."""
    landing = Landing(cooperative, now)
    asked, secret = _quoted(landing, LUSAKA, ("Esther", "IRQ", 65.0))
    ask(secret=secret, text="Can you gut them before freezing?", name="Mr Phiri (invented)", now=now)
    _quoted(landing, LUSAKA, supply=asked.supply, profit_kind="margin", profit_share=0.15)
    _quoted(landing, MPIKA, ("Joseph", "IRQ", 80.0), by=landing.packer, becomes="parcel")
    accepted, secret = _quoted(landing, KASAMA, ("Mary", "IRQ", 48.0))
    accept_quote(secret=secret, kg=accepted.least_kg, name="Mrs Mwansa (invented)", now=now)
    _, secret = _quoted(landing, KASAMA, ("Esther", "IRQ", 50.0))
    decline_quote(secret=secret, note="I still have some.", name="Mrs Mwansa (invented)", now=now)
    revoked, _ = _quoted(landing, LUSAKA, ("Chanda", "IRQ", 70.0))
    revoke_quote(by=landing.packer, quote=revoked, now=now)
    _quoted(landing, KASAMA, ("Mary", "IRQ", 50.0), back=LEFT)
    return 7


def _quoted(landing, way, fish=None, *, by=None, back=COMING, **wanted):
    """A quote of a day ago where its departure has left, else of now."""
    trip = Trip(*way, BOX, back, ())
    departs_at, timetable = landing.departs_at(trip), landing.timetable(trip)
    now, day = min(landing.now, departs_at - timedelta(days=1)), departs_at.date()
    usual = {"becomes": "lot", "profit_kind": "mark_up", "profit_share": 0.2, "language": "en"}
    asked = Wanted(
        buyer=landing.buyer(way[1]),
        timetable=timetable,
        date=day,
        design=CartonDesign.objects.of(landing.cooperative).on(day).get(slug=BOX),
        fish=fish and _fish(landing, *fish, now),
        **(usual | wanted),
    )
    member = landing.members[fish[0]] if fish else wanted["supply"].member
    return make_quote(by=by or member, wanted=asked, now=now)


def _fish(landing, name, code, mass_kg, now):
    return Fish(
        member=landing.members[name],
        species=Species.objects.get(code=code),
        mass_kg=mass_kg,
        frozen_since=now - timedelta(days=3),
        ready_at=now - timedelta(hours=30),
        start_temperature_c=-20.0,
    )
