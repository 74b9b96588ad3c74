"""Payments: written once, by whoever packs, and shown in the account of whom they are of."""

from uuid import uuid4

import pytest

from api.payments import PaymentOut
from tests.api.packing_scene import clock, day, made
from tests.api.people import somebody
from tests.api.test_openapi import differences
from tests.factories.entries import EntryFactory
from tests.factories.shares import ClosedParcelFactory
from tests.selectors.queries import questions

__all__ = ["clock", "day"]


def body(day, **changes):
    asked = {
        "member": day.members["anna"].pk,
        "amount_minor": 2500,
        "direction": "in",
        "paid_on": "2026-03-01",
        "note": "cash",
    }
    return asked | changes


@pytest.mark.parametrize(("direction", "kind", "amount"), [("in", "payment", -2500), ("out", "payout", 2500)])
def test_what_was_paid_in_is_hers_and_what_was_paid_out_is_owed(day, direction, kind, amount):
    status, entry = day.packer.post("payments/", body(day, direction=direction))
    assert status == 201
    assert differences(PaymentOut(), entry) == []
    assert (entry["kind"], entry["amount_minor"], entry["written_by"]["name"]) == (kind, amount, "Packer")
    account = made(day.anna("statement/"), 200)
    assert (account["balance_minor"], account["owes"], account["is_owed"]) == (amount, amount > 0, amount < 0)
    assert account["entries"] == [entry]
    assert made(day.packer("payments/"), 200)["results"] == [entry]


def test_the_same_payment_sent_again_is_one(day, clock):
    same = body(day, id=str(uuid4()))
    first = made(day.packer.post("payments/", same))
    clock.later(minutes=5)
    assert made(day.packer.post("payments/", same), 200) == first
    assert day.packer.post("payments/", same | {"amount_minor": 2600})[0] == 409
    assert day.manager.post("payments/", same)[0] == 409
    assert made(day.anna("statement/"), 200)["balance_minor"] == -2500


def test_payments_are_filtered_and_hold_nothing_else(day):
    anna, bwalya = day.members["anna"], day.members["bwalya"]
    cooperative = day.shore.cooperative
    paid = EntryFactory(cooperative=cooperative, member=anna)
    out = EntryFactory(cooperative=cooperative, member=bwalya, kind="payout", amount_minor=5)
    parcel = ClosedParcelFactory(cooperative=cooperative)
    EntryFactory(cooperative=cooperative, member=anna, kind="share", amount_minor=7, parcel=parcel)
    for query, expected in (
        ({}, {paid, out}),
        ({"member": anna.pk}, {paid}),
        ({"kind": "payout"}, {out}),
    ):
        found = {one["id"] for one in made(day.packer("payments/", **query), 200)["results"]}
        assert found == {str(row.uuid) for row in expected}
    assert day.packer("payments/", kind="share")[0] == 400


def test_thirty_payments_take_as_many_questions_as_one(day, theirs):
    EntryFactory(cooperative=theirs)

    def ask():
        return made(day.packer("payments/", page_size=100), 200)["count"]

    EntryFactory(cooperative=day.shore.cooperative)
    ask()
    one = questions(ask)
    for _ in range(29):
        EntryFactory(cooperative=day.shore.cooperative)
    assert questions(ask) == one
    assert ask() == 30


REFUSED = [
    ({"amount_minor": 0}, "amount_minor"),
    ({"amount_minor": -5}, "amount_minor"),
    ({"amount_minor": 25.0}, "amount_minor"),
    ({"amount_minor": "2500"}, "amount_minor"),
    ({"amount_minor": True}, "amount_minor"),
    ({"amount_minor": 10**12 + 1}, "amount_minor"),
    ({"direction": "back"}, "direction"),
    ({"paid_on": "2026-03-02"}, "paid_on"),
    ({"paid_on": "1999-12-31"}, "paid_on"),
    ({"member": 0}, "member"),
    ({"member": 10**9}, "member"),
    ({"note": "\x00"}, "note"),
    ({"id": 5}, "id"),
]


@pytest.mark.parametrize(("changes", "field"), REFUSED, ids=str)
def test_what_is_no_payment_is_refused_by_its_field(day, changes, field):
    status, answer = day.packer.post("payments/", body(day, **changes))
    assert (status, [one["field"] for one in answer["error"]["fields"]]) == (400, [field])
    assert made(day.packer("payments/"), 200)["count"] == 0


def test_a_member_of_strangers_is_not_known(day, theirs):
    status, answer = day.packer.post("payments/", body(day, member=somebody(theirs).pk))
    assert (status, answer["error"]["fields"][0]["field"]) == (400, "member")
