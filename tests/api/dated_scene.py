"""A trade on Monday, 2 March 2026, at noon, whose manager changes prices."""

from datetime import datetime, timedelta

import pytest

from tests.api.people import asking_as, somebody
from tests.factories.scene import trade

NOON = datetime.fromisoformat("2026-03-02T12:00:00+02:00")
TODAY, TOMORROW, WEEK = "2026-03-02", "2026-03-03", "2026-03-09"


@pytest.fixture
def clock(monkeypatch):
    """Stands at noon on Monday until it is put forward by some hours."""
    now = [NOON]
    monkeypatch.setattr("django.utils.timezone.now", lambda: now[0])

    def forward(hours):
        now[0] += timedelta(hours=hours)

    return forward


@pytest.fixture
def shore(clock, ours):
    """A trade, its manager and a member, and how each of them asks."""
    found = trade(ours)
    found.manager = somebody(ours, "manager", name="Manager")
    found.ask = asking_as(found.manager)
    found.ask_as_member = asking_as(somebody(ours, name="Member"))
    return found


def refused_fields(answered, status=400):
    """Names of the fields that an answer refuses, in order."""
    got, body = answered
    assert got == status, body
    return [one["field"] for one in body["error"]["fields"]]
