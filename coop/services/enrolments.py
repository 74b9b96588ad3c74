"""A phone is enrolled for a member: with a one-time code, or by a manager's password."""

import secrets
from datetime import timedelta
from typing import NamedTuple

from django.contrib.auth import get_user_model
from django.db import transaction
from knox.models import get_digest_token
from knox.settings import CONSTANTS

from coop.errors import Invalid, Problem
from coop.models import EnrolmentCode, Member, Phone, PhoneToken, Role
from coop.services.enrolment_codes import digest_of
from coop.services.locking import lock
from coop.services.writing import written

# A member meets the manager rarely, and what she wrote without a signal must not be stranded. A manager's
# token can let others in and change fares: it ends sooner, but outlasts a journey and a broken network.
MEMBER_DAYS, MANAGER_DAYS = 180, 30


class Session(NamedTuple):
    """What a phone keeps: the words of its token are told this once."""

    token: str
    expires_at: object
    phone: Phone
    member: Member


@transaction.atomic
def enrol_phone(*, code, phone_name, phone, at) -> Session:
    """A token for the member whose code it is; `phone` is the id of this phone if others hold it already."""
    found = EnrolmentCode.objects.select_related("cooperative").filter(digest=digest_of(code)).first()
    if found is None:
        raise refused_code()
    lock(found.cooperative)
    device = held_phone(found.cooperative, phone, phone_name, at)
    # The one that finds it unused is the one that uses it, also where two look at once.
    unused = EnrolmentCode.objects.of(found.cooperative).filter(pk=found.pk, used_at__isnull=True)
    here = unused.filter(expires_at__gt=at, member__left_on__isnull=True)
    if not here.update(used_at=at, phone=device):
        raise refused_code()
    return new_session(found.member, device, at)


def refused_code():
    """One answer for all that may be wrong with a code, so that trying tells nothing."""
    right = "a new code from your manager"
    wrong = Problem("code", None, "is not known, was used before, or counts no more", right)
    return Invalid(f"code: {wrong.problem}; right is {right}", wrong)


def held_phone(cooperative, uuid, name, at):
    """The phone of this id where it is one of this cooperative and not revoked; else a new one."""
    known = Phone.objects.of(cooperative).filter(uuid=uuid, revoked_at__isnull=True).first() if uuid else None
    return known or written(Phone(cooperative=cooperative, name=name, enrolled_at=at))


def new_session(member, phone, at):
    """A token of this member on this phone; one that she had on it before counts no more."""
    account = account_of(member)
    account.auth_token_set.filter(expiry__lte=at).delete()
    account.auth_token_set.filter(phone=phone).delete()
    digest, words = get_digest_token()
    days = MANAGER_DAYS if member.role == Role.MANAGER else MEMBER_DAYS
    token = PhoneToken(
        digest=digest,
        token_key=words[: CONSTANTS.TOKEN_KEY_LENGTH],
        user=account,
        phone=phone,
        expiry=at + timedelta(days=days),
    )
    written(token)
    return Session(words, token.expiry, phone, member)


def account_of(member):
    """The account that tokens hang on; it has no password until a manager sets hers."""
    if member.account_id is None:
        account = get_user_model()(username=f"member-{secrets.token_hex(8)}")
        account.set_unusable_password()
        account.save()
        member.account = account
        member.save(update_fields=["account"])
    return member.account
