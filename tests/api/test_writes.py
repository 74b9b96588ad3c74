"""Every writing route is answered once to a key; pages that are too old write nothing."""

import json
import re
from uuid import uuid4

import pytest

from api import urls
from api.roles import ANYBODY
from api.writes import NOT_KEPT
from coop.models import Lot, Member, Write
from tests.api.people import client_of, somebody
from tests.api.role_table import ROWS, SEVEN
from tests.api.test_errors import is_of_the_one_shape
from tests.api.test_roles import named, people

WRITING = [row for row in ROWS if row.method in ("POST", "PATCH") and not row.anybody]
KEPT = [row for row in WRITING if row.address not in NOT_KEPT]
UNKEPT = [row for row in WRITING if row.address in NOT_KEPT]
KEY = "0b2f3a52-6b0e-4f0a-9d6e-3c1d2b7c9a10"

__all__ = ["people"]


def who_may(row):
    """The first who is let in, and what she gets."""
    # Whoever turns her own phone out is not there for a second answer.
    if row.address == "phones/<uuid:uuid>/revoke/":
        return "manager", 200
    return next(
        (who, status)
        for who, status in zip(SEVEN, row.statuses, strict=True)
        if status not in (401, 403, 404)
    )


def prepared(row, people):
    """Sends the row as whoever may, as often as it is called, always the same unless told otherwise."""
    who, _ = who_may(row)
    client = client_of(getattr(people, who), people.phone if who == "owner" else None)
    name = row.named(people) if row.named else None
    address = re.sub(r"<\w+:\w+>", str(name), row.address.replace("<int:position>", "1"))
    body = (row.body(people) if row.body else None) or {}

    def send(key=KEY, **more):
        write = {"POST": client.post, "PATCH": client.patch}[row.method]
        headers = {"idempotency-key": key} if key else {}
        content = json.dumps({**body, **more})
        return write(f"/api/v1/{address}", content, content_type="application/json", headers=headers)

    return send


@pytest.mark.parametrize("row", KEPT, ids=named)
def test_a_second_copy_gets_the_first_answer_byte_for_byte(row, people):
    send = prepared(row, people)
    first, second = send(), send(f'"{KEY}"')
    assert first.status_code == second.status_code == who_may(row)[1], first.content
    if first.status_code >= 400:
        assert not Write.objects.exists()
        return
    assert second.content == first.content
    assert second.headers.get("Content-Type") == first.headers.get("Content-Type")
    assert second.headers.get("ETag") == first.headers.get("ETag")
    assert Write.objects.get().status == first.status_code
    other = send(something_else=1)
    assert other.status_code == 422
    assert other.json()["error"]["code"] == "key_taken"
    assert is_of_the_one_shape(other.json())
    assert Write.objects.count() == 1


@pytest.mark.parametrize("row", UNKEPT, ids=named)
def test_of_what_is_a_secret_or_a_file_nothing_is_kept(row, people):
    assert prepared(row, people)().status_code == who_may(row)[1]
    assert not Write.objects.exists()


def test_every_route_that_is_not_kept_is_there_and_says_why():
    there = {str(one.pattern) for one in urls.urlpatterns}
    assert set(NOT_KEPT) <= there
    assert all(NOT_KEPT.values())


def test_what_is_for_anybody_reads_no_key():
    open_ones = {str(one.pattern) for one in urls.urlpatterns if one.callback.cls.may.get("POST") is ANYBODY}
    assert open_ones == {"demonstration/", "enrolments/", "sign-in/"}
    assert open_ones < set(NOT_KEPT)


def test_the_token_that_an_enrolment_answers_with_is_kept_nowhere(people):
    row = next(row for row in ROWS if row.address == "enrolments/")
    client, body = client_of(people.owner), row.body(people)
    headers = {"idempotency-key": KEY}
    answer = client.post("/api/v1/enrolments/", body, content_type="application/json", headers=headers)
    assert answer.status_code == 201
    assert not Write.objects.exists()


NEW = {"name": "New", "role": "packer"}


@pytest.fixture
def write(ours):
    """Adds a member as a manager, with headers of one's own."""
    client = client_of(somebody(ours, "manager"))

    def add(body=NEW, **headers):
        return client.post("/api/v1/members/", body, content_type="application/json", headers=headers)

    return add


def added():
    return Member.objects.filter(name="New").count()


def test_without_a_key_it_is_as_it_was(write):
    assert write().status_code == 201
    assert write().status_code == 409
    assert not Write.objects.exists()


@pytest.mark.parametrize("key", ["", "7", '"', "not-a-uuid", f"{KEY}, {KEY}"])
def test_a_key_that_is_none_is_refused_with_what_would_be_right(write, key):
    answer = write(**{"idempotency-key": key})
    assert (answer.status_code, added()) == (400, 0)
    assert answer.json()["error"]["fields"][0]["field"] == "Idempotency-Key"


def test_a_refused_write_that_is_mended_may_come_under_the_same_key_or_another(write):
    assert write({"name": ""}, **{"idempotency-key": KEY}).status_code == 400
    assert write(**{"idempotency-key": KEY}).status_code == 201
    assert added() == 1


def test_a_fault_of_ours_keeps_nothing(write, monkeypatch):
    def breaks(**_named):
        Member.objects.filter(name="New").update(phone="lost")
        raise ZeroDivisionError

    monkeypatch.setattr("api.members.add_member", breaks)
    with pytest.raises(ZeroDivisionError):
        write(**{"idempotency-key": KEY})
    assert not Write.objects.exists()


def test_a_token_that_counts_no_more_is_told_so_by_the_view(write, ours):
    client = client_of(somebody(ours, "manager"))
    client.defaults["HTTP_AUTHORIZATION"] = f"Token {'0' * 64}"
    headers = {"authorization": f"Token {'0' * 64}", "idempotency-key": KEY}
    assert (
        client.post("/api/v1/members/", NEW, content_type="application/json", headers=headers).status_code
        == 401
    )


def test_more_than_anybody_sends_is_refused_unread(write):
    answer = write({"name": "x" * 300_000}, **{"idempotency-key": KEY})
    assert answer.status_code == 413
    assert not Write.objects.exists()


def test_pages_that_are_too_old_write_nothing_and_read_on(write, settings, ask):
    settings.OLDEST_APP = (0, 2, 0)
    answer = write(**{"app-version": "0.1.9", "idempotency-key": KEY})
    assert (answer.status_code, answer.json()["error"]["code"], added()) == (426, "too_old", 0)
    assert answer.json()["error"]["fields"][0]["right"] == "0.2.0 or newer"
    assert ask("cooperatives/")[0] == 200
    assert write(**{"app-version": "0.2.0", "idempotency-key": KEY}).status_code == 201


def test_whoever_says_no_version_writes_as_before_and_nonsense_is_refused(write, settings):
    settings.OLDEST_APP = (9, 0, 0)
    assert write(**{"app-version": "new"}).status_code == 400
    assert write().status_code == 201


def test_two_copies_of_an_offer_make_one_lot(people):
    row = next(row for row in ROWS if named(row) == "POST lots/")
    send = prepared(row, people)
    assert send().json()["id"] == send().json()["id"]
    assert send(key=str(uuid4())).json()["id"] != send().json()["id"]
    assert Lot.objects.count() == 2
