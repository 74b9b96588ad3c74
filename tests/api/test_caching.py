from django.test import Client

from tests.api.people import client_of, somebody


def test_an_answer_is_not_kept_for_somebody_else(ours):
    for client in (Client(), client_of(somebody(ours))):
        assert "Authorization" in client.get("/api/v1/places/")["Vary"]
    assert client.get("/api/v1/me/")["Cache-Control"] == "private, no-cache"


def test_what_every_visitor_gets_may_be_kept(ours):
    assert "Cache-Control" not in Client().get("/api/v1/places/")


def test_an_answer_that_has_not_changed_for_the_same_holder_is_not_sent_again(ours):
    client = client_of(somebody(ours))
    first = client.get("/api/v1/me/")
    again = client.get("/api/v1/me/", headers={"if-none-match": first["ETag"]})
    assert (again.status_code, again.content) == (304, b"")
    other = client_of(somebody(ours)).get("/api/v1/me/", headers={"if-none-match": first["ETag"]})
    assert other.status_code == 200
