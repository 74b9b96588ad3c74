"""Who may do what for others: a member her own, a packer and a manager everybody's of their cooperative."""

from coop.errors import NotAllowed, NotFound
from coop.models import Role

PACKERS = (Role.PACKER, Role.MANAGER)


def packs(member):
    return member.role in PACKERS


def require_packer(by, doing):
    """Refuses what only somebody who packs for the cooperative may do."""
    if not packs(by):
        raise NotAllowed(f"Only a packer or a manager may {doing}.")


def require_manager(by, doing):
    """Refuses what only a manager may do."""
    if by.role != Role.MANAGER:
        raise NotAllowed(f"Only a manager may {doing}.")


def require_own(by, *rows):
    """Refuses rows of another cooperative as if there were none."""
    for row in rows:
        if row.cooperative_id != by.cooperative_id:
            raise NotFound(f"There is no such {row._meta.verbose_name}.")
