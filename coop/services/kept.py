"""A phone is given what it keeps, and what it was given is remembered until it is given the next."""

from datetime import datetime
from typing import NamedTuple

from django.db import transaction

from coop.models import Kept, PhoneToken
from coop.selectors.kept import changes, cursor_of, digests_of, kept_before

MOST_CURSORS = 2
"""What a phone has, and what was sent to it last: that answer may have been lost on the way."""


class Given(NamedTuple):
    """What a phone gets: `since` is the cursor that it builds on, None where everything comes."""

    since: str | None
    cursor: str
    documents: list
    gone: list


@transaction.atomic
def give(*, token: PhoneToken, documents: dict, since: str | None, at: datetime) -> Given:
    """What of these documents, {path: answer}, is new to a phone that has those of the cursor `since`."""
    before = kept_before(token, since)
    given = {path: digests_of(answer) for path, answer in documents.items()}
    cursor = cursor_of(given)
    new, gone = changes(documents, given, before.given if before else {})

    if before is None or before.cursor != cursor:
        remember(token, cursor, given, at, before)

    return Given(since if before else None, cursor, new, gone)


def remember(token, cursor, given, at, before):
    """Keeps what was given now and what the phone builds on; what it can no longer name goes."""
    rows = Kept.objects.of(token.phone.cooperative_id).filter(token=token)
    row, _ = rows.update_or_create(token=token, cursor=cursor, defaults={"given": given, "given_at": at})
    needed = [row.pk, *([before.pk] if before else [])]
    others = rows.exclude(pk__in=needed).values_list("pk", flat=True)
    rows.filter(pk__in=list(others)[MOST_CURSORS - len(needed) :]).delete()
