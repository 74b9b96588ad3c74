from django.db import transaction

from coop.errors import Conflict, Problem, invalid
from coop.models import Member, Role
from coop.selectors.members import present_members_of
from coop.selectors.payments import local_today
from coop.services.enrolment_codes import open_codes
from coop.services.locking import lock
from coop.services.phones import put_out
from coop.services.roles import require_manager, require_own
from coop.services.writing import written


@transaction.atomic
def add_member(*, by, name, phone="", role=Role.MEMBER, at) -> Member:
    require_manager(by, "add a member")
    cooperative = lock(by.cooperative)
    joined = local_today(cooperative, at)
    member = Member(cooperative=cooperative, name=name, phone=phone, role=role, joined_on=joined)
    require_once(member)
    return written(member)


@transaction.atomic
def change_member(*, by, member, at, **changes) -> Member:
    """Name, telephone, role, and whether she has left: who leaves is out at once, on every phone."""
    require_manager(by, "change a member")
    require_own(by, member)
    cooperative = lock(by.cooperative)
    member = Member.objects.of(cooperative).get(pk=member.pk)
    managed = is_managing(member)
    for name, value in changes.items():
        setattr(member, name, value)
    require_once(member)
    require_come(member.left_on, local_today(cooperative, at))
    if managed and not is_managing(member):
        require_another_manager(member)
        forget_password(member)
    written(member)
    if member.left_on:
        put_out(member)
        open_codes(cooperative).filter(member=member).delete()
    return member


def is_managing(member):
    return member.role == Role.MANAGER and member.left_on is None


def require_once(member):
    others = Member.objects.of(member.cooperative).exclude(pk=member.pk)
    if others.filter(name=member.name, phone=member.phone).exists():
        twice = Problem("name", member.name, "stands in the list already", "another name or telephone")
        raise Conflict("This member stands in the list already.", twice)


def require_come(day, today):
    if day and day > today:
        right = f"today, {today}, or a day before: who leaves is out at once"
        raise invalid("left_on", day.isoformat(), "has not come yet", right)


def require_another_manager(member):
    others = present_members_of(member.cooperative).filter(role=Role.MANAGER).exclude(pk=member.pk)
    if not others.exists():
        last = Problem("role", member.role, "leaves nobody to manage", "another manager first")
        raise Conflict(f"{member.name} is the last manager: make another one first.", last)


def forget_password(member):
    """So that a manager of once does not come back with an old password when she is made one again."""
    if member.account:
        member.account.set_unusable_password()
        member.account.save(update_fields=["password"])
