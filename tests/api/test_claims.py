"""Claims: a member her own, whoever packs all; what was got back is divided once."""

from uuid import uuid4

import pytest

from api.claims import ClaimOut
from tests.api.packing_scene import clock, day, made
from tests.api.test_openapi import differences
from tests.factories.parcels import PartFactory, closed, departed, lot_of, parcel_of

__all__ = ["clock", "day"]

SHARED_FISH = {"anna": 20.0, "bwalya": 35.0, "chanda": 45.0}


@pytest.fixture
def parcel(day, clock):
    """A parcel of three that is on its way."""
    row = parcel_of(day.shore)
    for who, mass_kg in SHARED_FISH.items():
        lot = lot_of(day.shore, member=day.members[who], mass_kg=mass_kg)
        PartFactory(carton=row.cartons.get(), lot=lot)
    clock.later(days=3)
    return departed(closed(row))


def body(day, parcel, claimed, **changes):
    parts = [{"member": day.members[who].pk, "claimed_minor": amount} for who, amount in claimed.items()]
    return {"parcel": str(parcel.uuid), "kind": "softened", "parts": parts, "note": "at the top"} | changes


def raised(day, parcel, who="packer", **claimed):
    return made(getattr(day, who).post("claims/", body(day, parcel, claimed)))


def parts_of(claim):
    return {
        part["member"]["name"].lower(): (part["claimed_minor"], part["awarded_minor"])
        for part in claim["parts"]
    }


def test_what_was_got_back_is_divided_as_the_contested_garment(day, parcel):
    """Aumann & Maschler 1985, table 1: of 200 those who claim 100, 200 and 300 get 50, 75 and 75."""
    claim = raised(day, parcel, anna=10_000, bwalya=20_000, chanda=30_000)
    assert differences(ClaimOut(), claim) == []
    assert (claim["state"], claim["estate_minor"], claim["rule"]) == ("raised", None, "")
    shared = made(day.packer.post(f"claims/{claim['id']}/share/", {"estate_minor": 20_000}), 200)
    assert differences(ClaimOut(), shared) == []
    assert (shared["state"], shared["estate_minor"], shared["rule"]) == ("shared", 20_000, "contested")
    awards = {"anna": 5000, "bwalya": 7500, "chanda": 7500}
    for who, award in awards.items():
        account = made(getattr(day, who)("statement/"), 200)
        assert account["balance_minor"] == -award
        assert [one["claim"] for one in account["entries"]] == [claim["id"]]
        assert parts_of(shared)[who][1] == award


def test_a_member_sees_of_a_claim_only_her_part(day, parcel):
    claim = raised(day, parcel, anna=10_000, bwalya=20_000)
    assert parts_of(made(day.anna(f"claims/{claim['id']}/"), 200)) == {"anna": (10_000, None)}
    [listed] = made(day.bwalya("claims/"), 200)["results"]
    assert parts_of(listed) == {"bwalya": (20_000, None)}
    assert parts_of(made(day.packer(f"claims/{claim['id']}/"), 200)) == parts_of(claim)
    assert made(day.chanda("claims/"), 200)["count"] == 0
    assert day.chanda(f"claims/{claim['id']}/")[0] == 404


def test_a_member_claims_for_herself_alone(day, parcel):
    claim = raised(day, parcel, "anna", anna=500)
    assert claim["raised_by"]["name"] == "Anna"
    status, answer = day.anna.post("claims/", body(day, parcel, {"bwalya": 500}))
    assert (status, answer["error"]["code"]) == (403, "not_allowed")


def test_the_same_claim_sent_again_is_one(day, clock, parcel):
    same = body(day, parcel, {"anna": 500}, id=str(uuid4()))
    first = made(day.anna.post("claims/", same))
    clock.later(minutes=5)
    assert made(day.anna.post("claims/", same), 200) == first
    assert made(day.packer("claims/"), 200)["count"] == 1
    assert day.packer.post("claims/", same)[0] == 409


def test_a_claim_is_decided_once(day, parcel):
    claim = raised(day, parcel, anna=500)
    rejected = made(day.packer.post(f"claims/{claim['id']}/reject/", {"note": "it was hard"}), 200)
    assert (rejected["state"], rejected["rejected_note"]) == ("rejected", "it was hard")
    for step, sent in (("share", {"estate_minor": 5}), ("reject", {"note": "again"})):
        assert day.packer.post(f"claims/{claim['id']}/{step}/", sent)[0] == 409
    assert made(day.packer(f"claims/{claim['id']}/"), 200) == rejected


def test_claims_are_filtered_field_by_field(day, parcel):
    first, second, third = (raised(day, parcel, anna=500 + n) for n in range(3))
    day.packer.post(f"claims/{first['id']}/share/", {"estate_minor": 5})
    day.packer.post(f"claims/{second['id']}/reject/", {"note": "hard"})
    for state, claim in (("shared", first), ("rejected", second), ("raised", third)):
        assert [one["id"] for one in made(day.packer("claims/", state=state), 200)["results"]] == [
            claim["id"]
        ]
    assert made(day.packer("claims/", parcel=str(parcel.uuid)), 200)["count"] == 3
    assert made(day.packer("claims/", parcel=str(uuid4())), 200)["count"] == 0
    assert made(day.packer("claims/", kind="lost"), 200)["count"] == 0
    status, answer = day.packer("claims/", parcel="none")
    assert (status, answer["error"]["fields"][0]["right"][:16]) == (400, "an id such as 7d")


PARTS = [
    ([], "parts"),
    (None, "parts"),
    ("anna", "parts"),
    ([5], "parts.0"),
    ([{"member": 1}], "parts.0.claimed_minor"),
    ([{"member": 10**9, "claimed_minor": 5}], "parts.0.member"),
    ([{"member": "1", "claimed_minor": 5}], "parts.0.member"),
    ([{"member": 1, "claimed_minor": 0}], "parts.0.claimed_minor"),
    ([{"member": 1, "claimed_minor": 5, "why": "soft"}], "parts.0.why"),
]


@pytest.mark.parametrize(("parts", "field"), PARTS, ids=str)
def test_parts_that_are_none_are_named_by_their_place(day, parcel, parts, field):
    status, answer = day.packer.post("claims/", body(day, parcel, {}, parts=parts))
    assert (status, [one["field"] for one in answer["error"]["fields"]]) == (400, [field])
    assert made(day.packer("claims/"), 200)["count"] == 0


def test_a_parcel_of_strangers_or_one_that_has_not_left_is_refused(day, parcel, theirs_trading):
    strange = parcel_of(theirs_trading)
    status, answer = day.packer.post("claims/", body(day, strange, {"anna": 5}))
    assert (status, answer["error"]["fields"][0]["field"]) == (400, "parcel")
    assert day.packer.post("claims/", body(day, parcel_of(day.shore), {"anna": 5}))[0] == 409
