"""Secret addresses under which a calendar asks for departures: who knows one needs no token."""

from datetime import datetime

from django.db import transaction
from django.utils import timezone

from coop.errors import Conflict
from coop.models import CalendarLink, Member
from coop.selectors.calendar_links import open_calendar_links_of
from coop.services.locking import lock
from coop.services.roles import require_manager, require_own
from coop.services.secret_links import new_secret
from coop.services.writing import written

MOST_LINKS = 20
"""Open at once for one member: a phone, a desk and a few forgotten ones; common practice, no source."""


@transaction.atomic
def make_calendar_link(*, by: Member, now: datetime | None = None) -> tuple[CalendarLink, str]:
    """A new link of hers and its secret, which is told this once."""
    cooperative, now = lock(by.cooperative), now or timezone.now()
    if open_calendar_links_of(by).count() >= MOST_LINKS:
        raise Conflict(f"{MOST_LINKS} calendars are open already: revoke one first.")

    secret, digest = new_secret()
    link = CalendarLink(cooperative=cooperative, member=by, secret_digest=digest, created_at=now)

    return written(link), secret


@transaction.atomic
def revoke_calendar_link(*, by: Member, link: CalendarLink, now: datetime | None = None) -> CalendarLink:
    """Ends a link at once; her own, or a manager anybody's. A second time changes nothing."""
    require_own(by, link)
    cooperative, now = lock(by.cooperative), now or timezone.now()
    if link.member_id != by.pk:
        require_manager(by, "revoke a calendar of somebody else")
    link = CalendarLink.objects.of(cooperative).get(pk=link.pk)
    if link.revoked_at:
        return link

    link.revoked_at = now

    return written(link)
