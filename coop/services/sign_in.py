"""Managers enter with a password, too; every holder of a phone can leave it."""

import math
from datetime import datetime

from axes.helpers import get_cool_off
from axes.models import AccessAttempt
from django.contrib.auth import authenticate, get_user_model, user_logged_in
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.db import transaction
from django.db.models import Max

from coop.errors import Conflict, Invalid, Problem, TooMany
from coop.selectors.members import manager_behind
from coop.services.enrolments import Session, account_of, held_phone, new_session
from coop.services.locking import lock
from coop.services.phones import put_out
from coop.services.roles import require_manager


def sign_in(*, caller, name, password, phone_name, phone, at) -> Session:
    """A token for a manager who knows her password. `caller` is the request: limits on tries look at it.

    Looked at outside of the transaction: a try that failed is counted, and must not be rolled back.
    """
    name = get_user_model().normalize_username(name)
    account = authenticate(caller, username=name, password=password)
    if caller.axes_locked_out:
        raise TooMany("Too many tries with this name: wait a while.", seconds_left(caller, name, at))
    manager = manager_behind(account)
    if manager is None:
        right = "the name and the password that the manager set"
        wrong = Problem("password", "not shown", "does not fit this name", right)
        raise Invalid("The name or the password is not right.", wrong)
    # Tries are forgotten, as after any sign-in.
    user_logged_in.send(sender=type(account), request=caller, user=account)
    return enter(manager, phone_name, phone, at)


@transaction.atomic
def enter(manager, phone_name, phone, at):
    lock(manager.cooperative)
    return new_session(manager, held_phone(manager.cooperative, phone, phone_name, at), at)


def seconds_left(caller, name, at: datetime) -> int:
    """How long no try counts, from the last one that did."""
    tries = AccessAttempt.objects.filter(username=name, ip_address=caller.axes_ip_address)
    last = tries.aggregate(last=Max("attempt_time"))["last"] or at
    whole_wait = get_cool_off(caller)
    left = min(whole_wait, last + whole_wait - at)
    return max(1, math.ceil(left.total_seconds()))


@transaction.atomic
def sign_out(*, by, phone):
    """Ends the token of this holder on this phone; others who hold it stay."""
    phone.tokens.filter(user=by.account_id).delete()


@transaction.atomic
def set_password(*, by, name, password, phone=None):
    """The name and password by which a manager signs in. Her tokens elsewhere end: they may be the reason."""
    require_manager(by, "have a password")
    lock(by.cooperative)
    account = account_of(by)
    account.username = get_user_model().normalize_username(name)
    require_free(account)
    require_good(password, account)
    account.set_password(password)
    account.save()
    put_out(by, but=phone)


def require_free(account):
    others = get_user_model().objects.exclude(pk=account.pk)
    if others.filter(username__iexact=account.username).exists():
        taken = Problem("name", account.username, "is taken", "another name")
        raise Conflict("This name is taken: choose another.", taken)
    try:
        account.clean_fields(exclude=["password"])
    except ValidationError as refusal:
        right = "letters, digits and @ . + - _"
        wrong = Problem("name", account.username, "is no name to sign in with", right)
        raise Invalid("This is no name to sign in with.", wrong) from refusal


def require_good(password, account):
    try:
        validate_password(password, account)
    except ValidationError as refusal:
        right = "8 letters or more, and no word that many use"
        wrong = Problem("password", "not shown", " ".join(refusal.messages), right)
        raise Invalid(wrong.problem, wrong) from refusal
