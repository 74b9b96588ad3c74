"""Who names the edition that she saw undoes nobody's work unseen: she is shown both, and decides."""

import pytest

from api.editions import with_edition
from tests.api.dated_rows import started
from tests.api.parcel_rows import filled
from tests.api.people import cast, client_of
from tests.factories.lots import LotFactory
from tests.factories.tariffs import TariffFactory


@pytest.fixture
def people(ours, theirs):
    return cast(ours, theirs)


class Phone:
    def __init__(self, member):
        self.client = client_of(member)

    def see(self, address):
        return self.client.get(f"/api/v1/{address}").json()

    def send(self, address, body, seen=None, method="post"):
        headers = {"if-match": f'"{seen}"'} if seen else {}
        write = getattr(self.client, method)
        return write(f"/api/v1/{address}", body, content_type="application/json", headers=headers)


@pytest.fixture
def lot(people):
    return f"lots/{LotFactory(cooperative=people.ours, member=people.owner, note='').uuid}/"


def test_the_second_of_two_who_change_a_lot_gets_both_versions(people, lot):
    owner, packer = Phone(people.owner), Phone(people.packer)
    seen = owner.see(lot)["edition"]
    assert packer.see(lot)["edition"] == seen
    first = packer.send(lot, {"note": "in two bags"}, seen, "patch")
    assert first.headers["ETag"] == f'"{first.json()["edition"]}"'
    assert first.json()["edition"] != seen
    second = owner.send(lot, {"note": "by the door"}, seen, "patch")
    body = second.json()
    assert (second.status_code, body["error"]["code"]) == (409, "conflict")
    assert body["sent"] == {"note": "by the door"}
    assert body["current"] == owner.see(lot)
    mine = owner.send(lot, {"note": "by the door"}, body["current"]["edition"], "patch")
    assert mine.json()["note"] == "by the door"


def test_without_it_the_last_word_counts_as_before(people, lot):
    for member, note in ((people.packer, "in two bags"), (people.owner, "by the door")):
        assert Phone(member).send(lot, {"note": note}, method="patch").status_code == 200


@pytest.mark.parametrize("named", ["*", "abc", '"abc"', '"4f1c0a9be23d7781", "4f1c0a9be23d7782"'])
def test_what_is_no_edition_is_refused_with_what_would_be_right(people, lot, named):
    client = client_of(people.owner)
    headers = {"if-match": named}
    answer = client.patch(f"/api/v1/{lot}", {"note": "x"}, content_type="application/json", headers=headers)
    assert answer.status_code == 400
    assert answer.json()["error"]["fields"][0]["field"] == "If-Match"


@pytest.mark.parametrize("address", ["lots/", "claims/7d9f1c1e-3f0a-4f0e-9c51-2f5b6a0d4c12/share/"])
def test_where_there_is_no_row_to_match_it_is_refused_or_missing(people, address):
    status = Phone(people.packer).send(address, {"estate_minor": 5}, "4f1c0a9be23d7781").status_code
    assert status == (400 if address == "lots/" else 404)


def test_a_member_is_changed_by_one_manager_at_a_time(people):
    address, manager = f"members/{people.fellow.pk}/", Phone(people.manager)
    seen = manager.see(address)["edition"]
    # Who may not see her telephone sees the same edition.
    assert Phone(people.owner).see(address)["edition"] == seen
    assert manager.send(address, {"phone": "097 2"}, seen, "patch").status_code == 200
    assert manager.send(address, {"role": "packer"}, seen, "patch").status_code == 409


def test_a_fare_that_somebody_confirmed_is_not_ended_by_who_has_not_seen_it(people):
    manager = Phone(people.manager)
    address = f"tariffs/{started(TariffFactory, 'cooperative')(people)}/"
    seen = manager.see(address)["edition"]
    assert manager.send(f"{address}confirm/", {}, seen).status_code == 200
    after = manager.send(f"{address}confirm/", {}, seen)
    assert after.status_code in (200, 409)
    assert after.status_code == (200 if manager.see(address)["edition"] == seen else 409)


def test_a_step_with_a_parcel_may_say_what_was_seen(people):
    address, owner = f"parcels/{filled(people)}/", Phone(people.owner)
    seen = owner.see(address)["edition"]
    assert Phone(people.packer).see(address)["edition"] == seen
    leaving = {"lot": str(people.owner.lots.get().uuid)}
    assert Phone(people.packer).send(f"{address}cartons/", {}, seen).status_code == 200
    refusal = owner.send(f"{address}leave/", leaving, seen)
    assert refusal.status_code == 409
    assert len(refusal.json()["current"]["cartons"]) == 2
    assert owner.send(f"{address}leave/", leaving, refusal.json()["current"]["edition"]).status_code == 200


def test_another_value_is_another_edition_and_what_moves_by_itself_is_none():
    row = {"kg": 20.0, "parts": [{"kg": 5.0, "mine": True}], "edition": ""}
    known = with_edition(row, but={"mine"})["edition"]
    assert len(known) == 16
    assert with_edition({**row, "kg": 21.0}, but={"mine"})["edition"] != known
    assert with_edition({**row, "parts": [{"kg": 5.0, "mine": False}]}, but={"mine"})["edition"] == known
    assert with_edition({**row, "parts": [{"kg": 6.0, "mine": True}]}, but={"mine"})["edition"] != known
