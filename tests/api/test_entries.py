"""Taking a line of an account back: both lines stay, and together they are nothing."""

from uuid import uuid4

import pytest

from api.entries import EntryOut
from tests.api.packing_scene import clock, day, made
from tests.api.test_openapi import differences
from tests.factories.entries import EntryFactory
from tests.factories.shares import ClosedParcelFactory

__all__ = ["clock", "day"]


@pytest.fixture
def paid(day, clock):
    clock.later(days=10)
    return EntryFactory(cooperative=day.shore.cooperative, member=day.members["anna"])


def test_a_line_that_is_taken_back_stays_and_names_what_undid_it(day, paid):
    status, entry = day.packer.post(f"entries/{paid.uuid}/correct/", {"note": "typed twice"})
    assert status == 201
    assert differences(EntryOut(), entry) == []
    told = {name: entry[name] for name in ("kind", "amount_minor", "corrects", "corrected", "note")}
    assert told == {
        "kind": "correction",
        "amount_minor": 10_000,
        "corrects": str(paid.uuid),
        "corrected": False,
        "note": "typed twice",
    }
    account = made(day.anna("statement/"), 200)
    assert account["balance_minor"] == 0
    assert [(one["id"], one["corrected"]) for one in account["entries"]] == [
        (entry["id"], False),
        (str(paid.uuid), True),
    ]


def test_a_correction_sent_again_is_the_first_and_a_second_one_is_refused(day, clock, paid):
    body = {"id": str(uuid4()), "note": "typed twice"}
    first = made(day.packer.post(f"entries/{paid.uuid}/correct/", body))
    clock.later(minutes=5)
    assert made(day.packer.post(f"entries/{paid.uuid}/correct/", body), 200) == first
    assert day.packer.post(f"entries/{paid.uuid}/correct/", {"note": "again"})[0] == 409


def test_a_share_of_a_bill_and_a_line_without_a_why_are_not_taken_back(day, paid):
    parcel = ClosedParcelFactory(cooperative=day.shore.cooperative)
    share = EntryFactory(cooperative=day.shore.cooperative, kind="share", amount_minor=500, parcel=parcel)
    assert day.packer.post(f"entries/{share.uuid}/correct/", {"note": "wrong"})[0] == 400
    for body in ({}, {"note": ""}, {"note": "  "}, {"note": None}):
        status, answer = day.packer.post(f"entries/{paid.uuid}/correct/", body)
        assert (status, answer["error"]["fields"][0]["field"]) == (400, "note")
