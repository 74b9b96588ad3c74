"""Whatever is sent about lots, parcels and money: no fault of ours, and what is refused writes nothing."""

import json

import pytest
from django.apps import apps
from django.db import connection

from tests.api import parcel_rows as rows
from tests.api.packing_scene import clock, day, lot_body, parcel_body
from tests.api.test_errors import is_of_the_one_shape
from tests.factories.parcels import PartFactory, closed, departed, handed_over, lot_of, parcel_of
from tests.factories.shares import ShareFactory

__all__ = ["clock", "day"]

ODD = (
    *(None, True, 0, -1, 3, 2.5, 1e308, -(10**30), 2**53 + 1, "", " ", "NaN", "x" * 3000, "\x00", "é"),
    *("2026-03-02", "0001-01-01", "2026-03-02T16:00:00+02:00", "9999-12-31T23:59:59+00:00", "south"),
    *("7d9f1c1e-3f0a-4f0e-9c51-2f5b6a0d4c11", [], [None], [{}], {}, ["south"] * 300),
)
RAW = (
    b"null",
    b"[]",
    b'"text"',
    b"5",
    b"{",
    b'{"a": NaN}',
    b'{"note": "a", "note": "b"}',
    b"\xff\xfe",
    b'{"note": "\\ud800"}',
    b"[" * 5000,
    b'{"x": ' * 20 + b"1" + b"}" * 20,
    b'{"mass_kg": 1e999}',
)


def filled(day):
    parcel = parcel_of(day.shore)
    PartFactory(carton=parcel.cartons.get(), lot=lot_of(day.shore, member=day.members["anna"], mass_kg=60))
    return parcel


def billed(day):
    parcel = closed(filled(day))
    ShareFactory(parcel=parcel, member=day.members["anna"])
    return parcel


def on_the_way(day):
    return departed(billed(day))


def claim_body(day):
    parts = [{"member": day.members["anna"].pk, "claimed_minor": 500}]
    return {"parcel": str(on_the_way(day).uuid), "kind": "lost", "parts": parts, "note": ""}


def payment_body(day):
    return {
        "member": day.members["anna"].pk,
        "amount_minor": 5,
        "direction": "in",
        "paid_on": "2026-02-27",
        "note": "",
    }


def joining(day):
    lot = lot_of(day.shore, member=day.members["anna"], mass_kg=60)
    return {"lot": str(lot.uuid), "mass_kg": None, "carton": 1}


def leaving(day):
    return {"lot": str(day.members["anna"].lots.get().uuid)}


def of_anna(make):
    return lambda day: make(day.shore.cooperative, day.members["anna"]).uuid


def told(**words):
    return lambda _day: words


DAY = "2026-03-05"
LOT = {
    "deliver_by": None,
    "may_be_split": True,
    "note": "two bags",
    "id": "7d9f1c1e-3f0a-4f0e-9c51-2f5b6a0d4c11",
}
HANDED_OVER = {
    "arrived_at": None,
    "handed_over_at": "2026-03-03T12:00:00+02:00",
    "is_hard": True,
    "soft_kg": 0,
    "core_temperature_c": None,
    "received_by": "",
    "note": "",
}
# Address, what stands in it, and a body that is as it should be.
SENT = {
    "lots/": (None, lambda day: lot_body(day, member=day.members["anna"].pk, **LOT)),
    "lots/{}/": (lambda day: lot_of(day.shore).uuid, lot_body),
    "lots/{}/withdraw/": (lambda day: lot_of(day.shore).uuid, told()),
    "parcels/": (None, parcel_body),
    "parcels/{}/join/": (lambda day: parcel_of(day.shore).uuid, joining),
    "parcels/{}/leave/": (lambda day: filled(day).uuid, leaving),
    "parcels/{}/cartons/": (lambda day: parcel_of(day.shore).uuid, told()),
    "parcels/{}/cartons/1/close/": (
        lambda day: filled(day).uuid,
        told(gross_mass_kg=None, core_temperature_c=None),
    ),
    "parcels/{}/call-off/": (lambda day: billed(day).uuid, told(note="it did not come")),
    "parcels/{}/depart/": (
        lambda day: billed(day).uuid,
        told(departed_at="2026-03-02T16:00:00+02:00", driver="", plate="", note=""),
    ),
    "parcels/{}/hand-over/": (lambda day: on_the_way(day).uuid, told(**HANDED_OVER)),
    "parcels/{}/settle/": (lambda day: handed_over(on_the_way(day)).uuid, told(received_minor=None)),
    "parcels/{}/corrections/": (
        lambda day: billed(day).uuid,
        told(id=LOT["id"], amount_minor=5, note="toll"),
    ),
    "plans/": (None, told(**{"route": "south", "buyer": "market", "from": DAY, "to": DAY})),
    "payments/": (None, payment_body),
    "entries/{}/correct/": (of_anna(rows.payment), told(id=LOT["id"], note="twice")),
    "claims/": (None, claim_body),
    "claims/{}/share/": (of_anna(rows.claim), told(estate_minor=5)),
    "claims/{}/reject/": (of_anna(rows.claim), told(note="hard")),
}


def stored():
    """Every row of ours, as it stands."""
    found = {}
    for model in apps.get_app_config("coop").get_models():
        found[model.__name__] = sorted(map(str, model.objects.order_by().values_list()))
    return found


def send(day, address, content):
    method = day.packer.client.patch if address == "lots/{}/" else day.packer.client.post
    return method(f"/api/v1/{address.format(day.named)}", content, content_type="application/json")


@pytest.fixture
def sent(day, clock, request):
    """The address under trial with its rows made, and the body that fits."""
    make, body = SENT[request.param]
    clock.later(days=3)
    day.named = make(day) if make else None
    return request.param, body(day)


every = pytest.mark.parametrize("sent", SENT, indirect=True)


def tried(day, address, content):
    """Sends and looks: an answer of ours, and where it did something that is undone."""
    point = connection.savepoint()
    response = send(day, address, content)
    assert response.status_code < 500, content[:200]
    if response.status_code >= 400:
        assert is_of_the_one_shape(response.json())
        # What a refusal has written would stay, and be found at the end.
        connection.savepoint_commit(point)
    else:
        connection.savepoint_rollback(point)
    return response.status_code


@every
def test_odd_values_are_answered_and_what_is_refused_writes_nothing(day, sent):
    address, body = sent
    before, refused = stored(), 0
    for name in (*body, "strange"):
        for value in ODD:
            refused += tried(day, address, json.dumps(body | {name: value})) == 400
    assert refused >= len(ODD)
    assert stored() == before


@every
def test_a_field_that_is_missing_is_named_or_has_a_value_of_its_own(day, sent):
    address, body = sent
    before = stored()
    for name in body:
        tried(day, address, json.dumps({key: value for key, value in body.items() if key != name}))
    assert stored() == before


@every
def test_what_is_no_object_of_fields_is_refused(day, sent):
    address, _ = sent
    before = stored()
    assert {tried(day, address, content) for content in RAW} == {400}
    assert stored() == before
