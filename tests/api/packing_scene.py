"""A cooperative on the Sunday before a departure, asked through the interface by each of its people."""

from datetime import UTC, datetime, timedelta
from types import SimpleNamespace

import pytest

from tests.api.people import asking_as, somebody
from tests.factories.scene import trade
from tests.selectors.shared_carton import SHORT_WAY

NOW = datetime(2026, 3, 1, 12, tzinfo=UTC)
MONDAY, NEXT_MONDAY = "2026-03-02", "2026-03-09"
CLOSES_AT = datetime(2026, 3, 2, 13, 20, tzinfo=UTC)
PEOPLE = {
    "anna": "member",
    "bwalya": "member",
    "chanda": "member",
    "esther": "member",
    "packer": "packer",
    "manager": "manager",
}


class Clock:
    """The hour of the server, which a test turns on."""

    def __init__(self, monkeypatch, now):
        self.now = now
        monkeypatch.setattr("django.utils.timezone.now", lambda: self.now)

    def at(self, instant):
        self.now = instant

    def later(self, **span):
        self.now += timedelta(**span)


@pytest.fixture
def clock(monkeypatch):
    return Clock(monkeypatch, NOW)


@pytest.fixture
def day(clock, ours):
    return packing_day(ours)


def packing_day(cooperative, **options):
    """A trade on a short way, its people, and how each of them asks."""
    shore = trade(cooperative, leg=SHORT_WAY, **options)
    members = {name: somebody(cooperative, role, name=name.title()) for name, role in PEOPLE.items()}
    asks = {name: asking_as(member) for name, member in members.items()}
    return SimpleNamespace(shore=shore, members=members, **asks)


def lot_body(day, mass_kg=20.0, **changes):
    """What is sent to offer fish; None leaves a field out."""
    body = {
        "route": day.shore.route.slug,
        "buyer": day.shore.buyer.slug,
        "species": day.shore.species.code,
        "mass_kg": mass_kg,
        "frozen_since": "2026-02-28T06:00:00+02:00",
        "ready_at": "2026-03-01T06:00:00+02:00",
        "start_temperature_c": -18.0,
    } | changes
    return {name: value for name, value in body.items() if value is not None}


def parcel_body(day, date=MONDAY, **changes):
    body = {
        "timetable": day.shore.timetable.pk,
        "date": date,
        "carton_design": day.shore.design.slug,
        "buyer": day.shore.buyer.slug,
        "cartons": 1,
    }
    return body | changes


def made(answer, status=201):
    """The body of an answer that went well."""
    found, body = answer
    assert found == status, body
    return body


def offered(day, who, mass_kg, **changes):
    return made(getattr(day, who).post("lots/", lot_body(day, mass_kg, **changes)))


def opened(day, **changes):
    return made(day.packer.post("parcels/", parcel_body(day, **changes)))


def joined(day, who, parcel, lot, **changes):
    body = {"lot": lot["id"], **changes}
    return made(getattr(day, who).post(f"parcels/{parcel['id']}/join/", body), 200)


def shared(day, **masses):
    """An open parcel in which each of the named has one lot."""
    parcel = opened(day)
    for who, mass_kg in masses.items():
        parcel = joined(day, who, parcel, offered(day, who, mass_kg))
    return parcel


def closed(day, parcel, position=1, **facts):
    return made(day.packer.post(f"parcels/{parcel['id']}/cartons/{position}/close/", facts), 200)
