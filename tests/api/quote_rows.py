"""Rows of quotes for the tables of all routes, and what is sent to make one, whatever the hour."""

from datetime import timedelta

from django.utils import timezone

from tests.factories.quotes import QuoteFactory, QuoteQuestionFactory
from tests.factories.scene import trade


def quote(cooperative, member=None):
    """A quote that counts, with a question."""
    now = timezone.now()
    hours = {"departs_at": now + timedelta(days=2), "issued_at": now - timedelta(hours=1)}
    hers = {"supply__member": member} if member else {}
    row = QuoteFactory(cooperative=cooperative, **hours, **hers)
    QuoteQuestionFactory(quote=row)
    return row


def quote_of_owner(cast):
    return quote(cast.ours, cast.owner).uuid


def quoting(cast):
    """Fish of the owner's on a departure of ours in some days."""
    shore, now = trade(cast.ours), timezone.now()
    day = (now + timedelta(days=3)).date()
    return {
        "departure": f"{shore.timetable.pk}-{day:%Y%m%d}-{shore.design.slug}",
        "buyer": shore.buyer.slug,
        "becomes": "lot",
        "fish": {
            "member": cast.owner.pk,
            "species": shore.species.code,
            "mass_kg": 80,
            "frozen_since": (now - timedelta(days=2)).isoformat(),
            "ready_at": (now - timedelta(days=1)).isoformat(),
            "start_temperature_c": -25,
        },
        "profit_kind": "mark_up",
        "profit_share": 0.25,
    }
