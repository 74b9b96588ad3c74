"""From where a request comes, and how often that may fail."""

import time
from contextlib import suppress
from ipaddress import ip_address, ip_network

from django.conf import settings
from django.core.cache import caches

from coop.errors import TooMany


def address_of(request):
    """The address that tries are counted under, or None where there is none.

    X-Forwarded-For is whatever its sender likes, but for what our own proxies appended: without a proxy it
    is not looked at. One subscriber has a whole /64 of IPv6, so that counts as one address.
    """
    named = request.META.get("REMOTE_ADDR", "")
    forwarded = request.META.get("HTTP_X_FORWARDED_FOR", "").split(",")
    if settings.PROXIES and len(forwarded) >= settings.PROXIES:
        named = forwarded[-settings.PROXIES].strip()
    try:
        address = ip_address(named)
    except ValueError:
        return None
    return str(address) if address.version == 4 else str(ip_network(f"{address}/64", False).network_address)


LIMITS = {
    # A secret is looked up: only failures count, so thirty phones enrolled in one morning hinder nobody.
    "sign-in": (30, 900),
    "enrolments": (20, 600),
    "quote-links": (30, 600),
    "calendar-links": (30, 600),
    # What makes, sends or reads something: each time counts.
    "demonstration": (300, 600),
    "quote-answers": (30, 600),
    "imports": (60, 600),
}
"""How often from one address, in each span of so many seconds. A view uses a row of it in one line:
`limit("imports").spend(request)`, or `with limit("quote-links").counting_failures(request, NotFound):`."""


class Tries:
    """So many tries from one address in each span of so many seconds."""

    def __init__(self, name, *, most, seconds):
        self.name, self.most, self.seconds = name, most, seconds

    def key(self, request):
        return f"tries-{self.name}-{address_of(request)}-{int(time.time() // self.seconds)}"

    def require(self, request):
        """Refuses a request from where too many were counted."""
        if counted().get(self.key(request), 0) >= self.most:
            left = self.seconds - int(time.time() % self.seconds)
            raise TooMany("Too many tries from here: wait a while.", left)

    def count(self, request):
        key = self.key(request)
        if not counted().add(key, 1, self.seconds):
            # Pushed out just now, by very many others: then it begins anew.
            with suppress(ValueError):
                counted().incr(key)

    def spend(self, request):
        """One try, whatever comes of it."""
        self.require(request)
        self.count(request)

    def counting_failures(self, request, failure):
        """A block in which only this failure counts."""
        return Counted(self, request, failure)


def limit(name):
    """The limit of this name in the table above."""
    most, seconds = LIMITS[name]
    return Tries(name, most=most, seconds=seconds)


def counted():
    return caches["tries"]


class Counted:
    def __init__(self, tries, request, failure):
        self.tries, self.request, self.failure = tries, request, failure

    def __enter__(self):
        self.tries.require(self.request)

    def __exit__(self, kind, _failure, _trace):
        if kind and issubclass(kind, self.failure):
            self.tries.count(self.request)
