"""One-time codes: who holds one enrols one phone for one member, once."""

import math
import secrets

from django.db import transaction
from django.utils.crypto import salted_hmac

from coop.errors import Conflict
from coop.models import EnrolmentCode
from coop.services.locking import lock
from coop.services.roles import require_manager, require_own
from coop.services.writing import written

# Without 0 and O, without 1, I and L, without U, which looks like V: it is read aloud, and off cracked glass.
ALPHABET = "23456789ABCDEFGHJKMNPQRSTVWXYZ"
LENGTH = 10
BITS = LENGTH * math.log2(len(ALPHABET))


@transaction.atomic
def issue_code(*, by, member, valid_for, at) -> tuple[EnrolmentCode, str]:
    """A new code for a member, and its words, which are told this once; codes of hers left open are void.

    `by` None is whoever keeps the server: the first manager of a cooperative has nobody else.
    """
    if by is not None:
        require_manager(by, "make a code")
        require_own(by, member)
    lock(member.cooperative)
    open_codes(member.cooperative).filter(member=member).delete()
    return new_code(member, by, valid_for, at)


def new_code(member, by, valid_for, at):
    """A code beside others; only for somebody who has not left."""
    open_codes(member.cooperative).filter(expires_at__lte=at).delete()
    member.refresh_from_db()
    if member.left_on:
        raise Conflict(f"{member.name} has left: no phone is enrolled for her.")
    words = "".join(secrets.choice(ALPHABET) for _ in range(LENGTH))
    code = EnrolmentCode(
        cooperative=member.cooperative,
        member=member,
        digest=digest_of(words),
        issued_by=by,
        issued_at=at,
        expires_at=at + valid_for,
    )
    return written(code), f"{words[:5]}-{words[5:]}"


def open_codes(cooperative):
    """Codes that nobody has used, whether they still count or not."""
    return EnrolmentCode.objects.of(cooperative).filter(used_at__isnull=True)


def digest_of(words):
    """What is stored of a code, in whatever case and with whatever dashes it was typed.

    Its 49 bits could be found from a plain digest by trying; without this server's secret they cannot.
    """
    plain = "".join(letter for letter in words.upper() if letter.isalnum())
    return salted_hmac("enrolment code", plain, algorithm="sha256").hexdigest()
