"""In the demonstration, and only there, anybody may look as anybody of the invented cooperative."""

from datetime import timedelta

from django.db import transaction

from coop.errors import invalid
from coop.models import EnrolmentCode
from coop.selectors.cooperatives import demo_cooperative
from coop.selectors.members import present_members_of
from coop.services.enrolment_codes import new_code
from coop.services.locking import lock

LOOK = timedelta(minutes=10)


@transaction.atomic
def look_as(*, member: int, at) -> tuple[EnrolmentCode, str]:
    """A code that enrols a phone for a member of the demonstration. It voids no other: many look at once."""
    cooperative = lock(demo_cooperative())
    found = present_members_of(cooperative).filter(pk=member).first()
    if found is None:
        raise invalid("member", member, "is nobody of the demonstration", "an id of GET demonstration/")
    return new_code(found, None, LOOK, at)
