"""Each write of a phone is answered once: its first answer is kept beside what it did, and given again."""

from collections.abc import Callable
from datetime import datetime, timedelta
from typing import NamedTuple
from uuid import UUID

from django.db import transaction
from django.utils import timezone

from coop.errors import KeyTaken, Problem
from coop.models import Member, Write
from coop.services.locking import lock

KEPT_FOR = timedelta(days=60)
"""A phone that lay without a signal for longer is a phone that was lost; common practice, no source."""


class Answer(NamedTuple):
    status: int
    body: str


@transaction.atomic
def answered_once(
    *, member: Member, key: UUID, fingerprint: str, act: Callable[[], Answer], now: datetime | None = None
) -> Answer:
    """What `act` answers, or what it answered when this key came first: what it does and the answer are one.

    A second copy at the same time waits: on SQLite for the one writer, on PostgreSQL for the row of its key.
    Only what was done is kept. A refusal is tried anew, and what failed leaves nothing.
    Raises KeyTaken where the key stood for something else.
    """
    now = now or timezone.now()
    writes = Write.objects.of(member.cooperative)
    writes.filter(made_at__lt=now - KEPT_FOR).delete()
    begun = {"cooperative": member.cooperative, "fingerprint": fingerprint, "made_at": now}
    write, is_first = writes.get_or_create(member=member, key=key, defaults=begun)
    if not is_first:
        return known_answer(write, fingerprint)

    answer = act()

    if answer.status >= 500:
        transaction.set_rollback(True)
    elif answer.status >= 400:
        write.delete()
    else:
        write.status, write.body = answer.status, answer.body
        write.save(update_fields=["status", "body"])
    return answer


def known_answer(write, fingerprint):
    if write.fingerprint != fingerprint:
        other = Problem(
            "Idempotency-Key", str(write.key), "came with something else before", "a new key for a new write"
        )
        raise KeyTaken(
            "This key came with something else before: a write that is mended gets a new key.", other
        )
    return Answer(write.status, write.body)


@transaction.atomic
def undisturbed(*, member: Member, act: Callable[[], Answer]) -> Answer:
    """What `act` answers while nobody else of the cooperative writes: what it looks at stays as it is."""
    lock(member.cooperative)
    answer = act()
    if answer.status >= 500:
        transaction.set_rollback(True)
    return answer
