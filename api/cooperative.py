"""Who asks, and which cooperative the request belongs to: decided here and nowhere else."""

from typing import NamedTuple
from zoneinfo import ZoneInfo

from django.utils import timezone

from coop.errors import NotFound, NotKnown
from coop.selectors.cooperatives import demo_cooperative
from coop.selectors.old_prices import old_before
from coop.selectors.payments import local_today

VISITOR, MEMBER, PACKER, MANAGER = "visitor", "member", "packer", "manager"
UNKNOWN = "Who asks is not known: enrol this phone or sign in. (No demonstration either: `manage.py demo`.)"


class Person(NamedTuple):
    """Who asks. A visitor of the demonstration is no member and holds no phone."""

    member: object
    cooperative: object
    role: str
    phone: object

    @property
    def zone(self):
        """The clock by which a cooperative lives."""
        return ZoneInfo(self.cooperative.time_zone)


def person_of(request):
    """The holder of the token; without any, a visitor of the demonstration where there is one.

    A token that counts no more never comes this far: `api/authentication.py` refuses it.
    """
    token = request.auth
    if token is None:
        return visitor()
    member = request.user.member
    return Person(member, member.cooperative, member.role, token.phone)


def visitor():
    try:
        return Person(None, demo_cooperative(), VISITOR, None)
    except NotFound as none:
        raise NotKnown(UNKNOWN) from none


def cooperative_of(request):
    """The cooperative whose rows this request sees."""
    return person_of(request).cooperative


def today_of(cooperative):
    """The day where a cooperative is."""
    return local_today(cooperative, timezone.now())


def old_before_today(cooperative):
    """The day before which a price must have been confirmed to be old now."""
    return old_before(cooperative, today_of(cooperative))
