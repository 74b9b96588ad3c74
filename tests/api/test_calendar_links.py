import pytest

from tests.api.people import asking_as, somebody

pytestmark = pytest.mark.django_db


def test_a_link_is_made_read_and_revoked(client, ours):
    ask = asking_as(somebody(ours))
    status, made = ask.post("calendar-links/")
    assert status == 201
    assert made["revoked_at"] is None
    path = made["address"].partition("testserver")[2]
    assert client.get(path).status_code == 200
    status, revoked = ask.post(f"calendar-links/{made['id']}/revoke/")
    assert status == 200
    assert revoked["revoked_at"]
    assert "address" not in revoked
    assert client.get(path).status_code == 404


def test_nothing_else_is_taken(ours):
    status, body = asking_as(somebody(ours)).post("calendar-links/", {"member": 3})
    assert status == 400
    assert body["error"]["fields"][0]["field"] == "member"
