"""Calendar links, and the hours that their holder's calendar shows."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from coop.models import CalendarLink, Parcel, ParcelState, Role
from coop.selectors.parcel_judgement import judged_cartons
from coop.selectors.parcels import parcels_of, with_own

SHOWN_AFTER = timedelta(days=1)
MOST_SHOWN = 200
"""Nobody plans more departures ahead: common practice, no source."""


@dataclass(frozen=True)
class Coming:
    """A departure that a calendar shows, and the last hour at which all its cartons leave safely."""

    parcel: Parcel
    leaves_by: datetime | None


def calendar_links_of(cooperative):
    return CalendarLink.objects.of(cooperative).select_related("member")


def open_calendar_links_of(member):
    """Links of one member that nobody has revoked."""
    return _open(member.cooperative_id).filter(member=member)


def calendar_links_for(member):
    """Links that nobody has revoked and that she may revoke: her own, and anybody's for a manager."""
    if member.role == Role.MANAGER:
        return _open(member.cooperative_id)
    return open_calendar_links_of(member)


def _open(cooperative):
    return calendar_links_of(cooperative).filter(revoked_at__isnull=True)


def shows_all(member):
    """Whether her calendar shows departures of everybody, or those with her fish only."""
    return member.role != Role.MEMBER


def calendar_link_behind(secret_digest):
    """The link of this secret with its member, or None where it was revoked or she has left."""
    links = CalendarLink.objects.select_related("member__cooperative")
    return links.filter(
        secret_digest=secret_digest, revoked_at__isnull=True, member__left_on__isnull=True
    ).first()


def coming_departures(member, now):
    """Coming of the parcels that are open or closed: her own, and all of them for whoever packs."""
    found = parcels_of(member.cooperative).filter(
        state__in=(ParcelState.OPEN, ParcelState.CLOSED), departs_at__gte=now - SHOWN_AFTER
    )
    if not shows_all(member):
        found = with_own(found, member).filter(has_own=True)
    parcels = list(found.order_by("departs_at", "pk")[:MOST_SHOWN])
    judged = judged_cartons(parcels)
    return [Coming(parcel, leaves_by(parcel, judged)) for parcel in parcels]


def leaves_by(parcel, judged):
    """The earliest last safe hour of its filled cartons; None where there is none, or one is not safe."""
    filled = [carton for carton in parcel.cartons.all() if carton.parts.all()]
    latest = [judged.get(carton.pk, carton).latest_safe_departure_at for carton in filled]
    return None if None in latest or not latest else min(latest)
