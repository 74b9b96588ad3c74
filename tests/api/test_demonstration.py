import pytest
from django.test import Client

from api.callers import LIMITS
from tests.api.people import Asking, somebody


def test_it_names_its_people_who_have_not_left(ask, ours, theirs):
    anna = somebody(ours, "packer", name="Anna")
    somebody(ours, left_on="2026-03-02")
    somebody(theirs)
    people = [{"id": anna.pk, "name": "Anna", "role": "packer"}]
    assert ask("demonstration/") == (200, {"people": people})


def test_a_visitor_looks_as_one_of_them(ask, ours):
    anna = somebody(ours)
    status, look = ask.post("demonstration/", {"member": anna.pk})
    assert status == 201
    assert set(look) == {"code", "expires_at"}
    assert ask.post("enrolments/", {"code": look["code"], "phone_name": "A visitor's"})[0] == 201


def test_nobody_looks_as_a_stranger(ask, theirs):
    status, answer = ask.post("demonstration/", {"member": somebody(theirs).pk})
    assert (status, answer["error"]["fields"][0]["field"]) == (400, "member")


@pytest.mark.django_db
def test_elsewhere_there_is_none():
    assert Asking()("demonstration/")[0] == 404
    assert Asking().post("demonstration/", {"member": 1})[0] == 404


def test_even_looking_has_a_limit(ask, ours, monkeypatch):
    monkeypatch.setitem(LIMITS, "demonstration", (2, 600))
    anna = somebody(ours)
    statuses = [ask.post("demonstration/", {"member": anna.pk})[0] for _ in range(3)]
    assert statuses == [201, 201, 429]
    assert Client(REMOTE_ADDR="192.0.2.1").get("/api/v1/demonstration/").status_code == 200
