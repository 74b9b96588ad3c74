"""What a member pays for, morning by morning: the demonstration, a day after everything came."""

from datetime import UTC, datetime, timedelta

import pytest
from django.utils import timezone

from coop.models import Parcel, Part, Role
from coop.selectors.cooperatives import demo_cooperative
from coop.services.demo import load_demo
from tests.api.kept_scene import KEPT, Phone, lasting
from tests.api.people import client_of

MOST_BYTES = 10_000
LOADED = datetime(2026, 3, 2, 10, tzinfo=UTC)
JSON = "application/json"


@pytest.fixture
def clock(monkeypatch):
    """Sets the hour at which everything happens."""

    def at(hour):
        monkeypatch.setattr(timezone, "now", lambda: hour)
        return hour

    at(LOADED)
    return at


@pytest.fixture
def people(db, clock):
    """A member with fish in a parcel that is being filled, whoever packs it, and when it closes."""
    load_demo(LOADED)
    cooperative = demo_cooperative()
    parcels = Parcel.objects.of(cooperative).filter(state="open")
    parts = Part.objects.of(cooperative).filter(carton__parcel__in=parcels, lot__member__role=Role.MEMBER)
    part = parts.order_by("carton__parcel__departs_at").first()
    packer = cooperative.members.filter(role=Role.PACKER).first()
    return part.lot.member, packer, part.carton.parcel.closes_at


def done(response, *statuses):
    assert response.status_code in statuses, response.content
    return response.json()


def usual_changes(member, packer, now):
    """A lot more, a carton closed with the last of a parcel's fish, and two payments."""
    hers, packers = client_of(member), client_of(packer)
    like = done(hers.get("/api/v1/lots/"), 200)["results"][0]
    lot = {name: like[name]["slug"] for name in ("route", "buyer")} | {
        "species": like["species"]["code"],
        "mass_kg": 18,
        "frozen_since": (now - timedelta(days=2)).isoformat(),
        "ready_at": (now - timedelta(hours=2)).isoformat(),
        "start_temperature_c": -18,
    }
    done(hers.post("/api/v1/lots/", lot, content_type=JSON), 201)
    open_ones = done(packers.get("/api/v1/parcels/", {"state": "open"}), 200)["results"]
    hers_too = [one for one in open_ones if member.pk in owners(one)]
    parcel = min(hers_too, key=lambda one: one["departs_at"])
    close = f"/api/v1/parcels/{parcel['id']}/cartons/1/close/"
    assert done(packers.post(close, {}, content_type=JSON), 200)["state"] == "closed"
    for minor in (1_000, 2_000):
        paid = {
            "member": member.pk,
            "amount_minor": minor,
            "direction": "in",
            "paid_on": now.date().isoformat(),
        }
        done(packers.post("/api/v1/payments/", paid, content_type=JSON), 201)


def owners(parcel):
    return {part["member"]["id"] for carton in parcel["cartons"] for part in carton["parts"]}


def test_a_day_later_with_its_usual_changes_a_refresh_stays_below_ten_kilobytes(people, clock):
    member, packer, closes_at = people
    first_at = clock(closes_at - timedelta(days=1))
    phone = Phone(member, sparing="false").refresh()
    first = phone.client.get(KEPT, headers={"accept-encoding": "gzip"})
    clock(first_at + timedelta(minutes=1))
    assert phone.ask()["documents"] == []

    now = clock(closes_at)
    usual_changes(member, packer, now)
    small = phone.client.get(KEPT, {"since": phone.cursor}, headers={"accept-encoding": "gzip"})
    print("a member, first and a day later:", len(first.content), len(small.content), "bytes")
    assert 0 < len(small.content) <= MOST_BYTES
    phone.refresh()
    for path, document in phone.documents.items():
        assert lasting(document) == lasting(phone.asked_at(path)), path
