"""What every write of a phone goes through: its version, its key, and whether it saw the row as it is.

`Idempotency-Key` as the IETF draft httpapi-idempotency-key-header has it, one UUID in quotes or plain; where
the draft would refuse a second copy that comes while the first is at work, this one waits for its answer.
"""

import hashlib
import json
from functools import partial
from uuid import UUID

from django.conf import settings
from django.http import HttpResponse

from api.authentication import PhoneAuthentication
from api.body import MOST_BYTES
from api.editions import HEADER as IF_MATCH
from api.editions import require_unchanged
from api.errors import plain
from coop.errors import Changed, Failure, NotKnown, Problem, TooOld, invalid
from coop.selectors.versions import version_of
from coop.services.writes import Answer, answered_once, undisturbed

KEY, VERSION = "Idempotency-Key", "App-Version"
WRITES = ("POST", "PATCH")
# Routes whose answers are not kept, and why. A key that comes with one of them is not looked at.
NOT_KEPT = {
    "demonstration/": "the answer is a secret",
    "enrolments/": "the answer is a secret",
    "sign-in/": "the answer is a secret",
    "sign-out/": "the token that would ask again is gone",
    "me/password/": "what is sent is a secret",
    "enrolment-codes/": "the answer is a secret",
    "calendar-links/": "the answer is a secret",
    "quotes/": "the answer is a secret; its own id makes it once",
    "quotes/<uuid:uuid>/renew-link/": "the answer is a secret",
    "quotes/preview/": "it writes nothing",
    "what-if/": "it writes nothing",
    "plans/": "it is worked out before it is written, and its own id makes it once",
    "imports/gtfs/": "a file: the same again changes nothing",
    "imports/<slug:subject>/": "a file: the same again changes nothing",
}


class Writes:
    """Middleware around every view of the interface."""

    def __init__(self, get_response):
        self.get_response = get_response

    def __call__(self, request):
        return self.get_response(request)

    def process_view(self, request, view, arguments, named):
        if request.method not in WRITES or not request.path_info.startswith("/api/v1/"):
            return None
        try:
            require_version(request.headers.get(VERSION))
            member = holder_of(request)
            if member is None or is_too_long(request):
                return None
            return answered(request, member, partial(view, request, *arguments, **named))
        except Failure as refusal:
            return with_both(refusal, request) if isinstance(refusal, Changed) else plain(refusal)


def require_version(given):
    """Raises TooOld for pages older than the setting lets write."""
    if given is None:
        return
    version = version_of(given)
    if version is None:
        raise invalid(VERSION, given, "is no version", "numbers with dots such as 0.1.0")
    if version < settings.OLDEST_APP:
        oldest = ".".join(map(str, settings.OLDEST_APP))
        wrong = Problem(VERSION, given, "is too old to write", f"{oldest} or newer")
        raise TooOld("These pages are too old to write: take the new version. Nothing is lost.", wrong)


def holder_of(request):
    """The member whose token it is; None where the view has to say that nobody is known."""
    try:
        found = PhoneAuthentication().authenticate(request)
    except NotKnown:
        return None
    return found[0].member if found else None


def is_too_long(request):
    """More than any view reads, so it is refused there, unread."""
    return int(request.META.get("CONTENT_LENGTH") or 0) > MOST_BYTES


def answered(request, member, view):
    """The answer of the view, or the first one to this key; None where nothing is asked of us."""
    route = request.resolver_match.route.removeprefix("api/v1/")
    key = None if route in NOT_KEPT else request.headers.get(KEY)
    seen = request.headers.get(IF_MATCH)
    if key is None and seen is None:
        return None
    given = []

    def act():
        if seen is not None:
            require_unchanged(request)
        given.append(view().render())
        return Answer(given[0].status_code, given[0].content.decode())

    if seen is not None:
        # What is seen must not change until it is written.
        looked, act = act, lambda: undisturbed(member=member, act=looked)
    if key is None:
        act()
        return with_etag(given[0])
    mark = fingerprint(request)
    answer = answered_once(member=member, key=key_in(key), fingerprint=mark, act=act)
    return with_etag(given[0] if given else again(answer))


def key_in(text):
    try:
        return UUID(text.strip().removeprefix('"').removesuffix('"'))
    except ValueError as wrong:
        right = 'one UUID such as "8e03978e-40d5-43dd-bc93-6894a57f9324"'
        raise invalid(KEY, text, "is no UUID", right) from wrong


def fingerprint(request):
    words = f"{request.method} {request.get_full_path()}\n".encode()
    return hashlib.sha256(words + request.body).hexdigest()


def again(answer):
    """An answer that was given before, byte for byte."""
    response = HttpResponse(answer.body, status=answer.status, content_type="application/json")
    if not answer.body:
        del response["Content-Type"]
    return response


def with_etag(response):
    """What was written says its edition to HTTP, too."""
    shown = json.loads(response.content) if response.content else None
    if response.status_code < 300 and isinstance(shown, dict) and "edition" in shown:
        response["ETag"] = f'"{shown["edition"]}"'
    return response


def with_both(refusal, request):
    """A conflict for a person to decide: how the row is now, and what she sent."""
    response = plain(refusal)
    both = {"current": refusal.current, "sent": json.loads(request.body or b"{}")}
    response.content = json.dumps({**json.loads(response.content), **both}, ensure_ascii=False)
    return response
