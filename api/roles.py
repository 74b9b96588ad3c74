"""Who may do what: each view says it in `may`, method by method, with these words."""

from rest_framework.permissions import BasePermission

from api.cooperative import MANAGER, MEMBER, PACKER, VISITOR, person_of
from coop.errors import NotAllowed, NotKnown

MANAGERS = frozenset({MANAGER})
PACKERS = MANAGERS | {PACKER}
MEMBERS = PACKERS | {MEMBER}
VISITORS = MEMBERS | {VISITOR}
# Nobody is asked for: what enrols, signs in or describes. Such a view reads no token either.
ANYBODY = frozenset({"anybody"})
NAMES = {MANAGERS: "a manager", PACKERS: "a packer or a manager", MEMBERS: "a member"}


class MayAsk(BasePermission):
    """Reads `may` of the view. What a view does not say is allowed to nobody."""

    def has_permission(self, request, view):
        method = "GET" if request.method == "HEAD" else request.method
        # What a view has no method for is answered with 405, and OPTIONS only says which it has.
        if method == "OPTIONS" or not hasattr(view, method.lower()):
            return True
        allowed = getattr(view, "may", {}).get(method, frozenset())
        if allowed is ANYBODY:
            return True
        person = person_of(request)
        if person.role in allowed:
            return True
        if person.role == VISITOR:
            raise NotKnown("This needs a member: enrol this phone or sign in.")
        raise NotAllowed(f"This needs {NAMES.get(allowed, 'somebody else')}.")
