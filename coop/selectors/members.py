from coop.models import Member, Role


def members_of(cooperative):
    return Member.objects.of(cooperative)


def present_members_of(cooperative):
    """Members who have not left."""
    return members_of(cooperative).filter(left_on__isnull=True)


def manager_behind(account):
    """The manager whose account this is, or None: nobody else signs in with a password."""
    member = getattr(account, "member", None)
    manages = member is not None and member.role == Role.MANAGER and member.left_on is None
    return member if manages else None
