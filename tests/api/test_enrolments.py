import pytest
from django.test import Client

from api.enrolments import SessionOut
from tests.api.people import Asking, somebody
from tests.api.test_openapi import differences


@pytest.fixture
def anna(ours):
    return somebody(ours, name="Anna")


@pytest.fixture
def code(ask_as_manager, anna):
    return ask_as_manager.post("enrolment-codes/", {"member": anna.pk})[1]["code"]


def test_a_code_becomes_a_session_and_its_token_lets_in(ask, code, anna):
    status, session = ask.post("enrolments/", {"code": code.lower(), "phone_name": "Hers", "phone": None})
    assert status == 201
    assert differences(SessionOut(), session) == []
    hers = Asking(Client(headers={"authorization": f"Token {session['token']}"}))
    assert hers("me/") == (200, session["me"])
    assert session["me"]["member"]["id"] == anna.pk
    assert session["phone"] == session["me"]["phone"]


def test_a_used_code_does_not_work_twice_and_tells_nothing(ask, code):
    asked = {"code": code, "phone_name": "Hers"}
    assert ask.post("enrolments/", asked)[0] == 201
    status, answer = ask.post("enrolments/", asked)
    assert status == 400
    assert answer == ask.post("enrolments/", {**asked, "code": "7KQ2M-XW94C"})[1]
    assert code not in str(answer)


def test_after_twenty_wrong_codes_it_waits_and_says_how_long(ask, code):
    for _ in range(20):
        assert ask.post("enrolments/", {"code": "7KQ2M-XW94C", "phone_name": "x"})[0] == 400
    response = Client().post(
        "/api/v1/enrolments/", {"code": code, "phone_name": "x"}, content_type="application/json"
    )
    assert response.status_code == 429
    assert response.json()["error"]["code"] == "too_many"
    assert 0 < int(response["Retry-After"]) <= 600


def test_a_morning_of_thirty_enrolments_behind_one_address_is_no_attack(ask, ask_as_manager, ours):
    for _ in range(30):
        code = ask_as_manager.post("enrolment-codes/", {"member": somebody(ours).pk})[1]["code"]
        assert ask.post("enrolments/", {"code": code, "phone_name": "x"})[0] == 201


def test_a_token_that_is_out_does_not_keep_its_phone_from_enrolling_again(ours, code):
    client = Client(headers={"authorization": "Token 0"})
    assert Asking(client).post("enrolments/", {"code": code, "phone_name": "Hers"})[0] == 201


@pytest.mark.parametrize(
    ("content", "kind", "status"),
    [
        (b"code=7KQ2M-XW94C", "application/x-www-form-urlencoded", 415),
        (b"<code/>", "text/xml", 415),
        (b'{"code": 1}', "text/plain", 415),
        (b"{", "application/json", 400),
        (b"[]", "application/json", 400),
        (b"", "application/json", 400),
        (b" " * 10 * 2**20, "application/json", 413),
    ],
)
def test_what_is_not_read_is_refused_in_the_one_shape(ours, content, kind, status):
    response = Client().post("/api/v1/enrolments/", content, content_type=kind)
    assert response.status_code == status
    assert set(response.json()["error"]) == {"code", "message", "fields"}


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"code": "x" * 21}, "code"),
        ({"code": None}, "code"),
        ({"phone_name": " "}, "phone_name"),
        ({"phone_name": "x" * 61}, "phone_name"),
        ({"phone_name": "a\0b"}, "phone_name"),
        ({"phone": "mine"}, "phone"),
        ({"phone": 5}, "phone"),
        ({"role": "manager"}, "role"),
    ],
)
def test_what_is_wrong_is_named_and_no_code_is_lost_by_it(ask, code, change, field):
    asked = {"code": code, "phone_name": "Hers"}
    status, answer = ask.post("enrolments/", {**asked, **change})
    assert (status, answer["error"]["fields"][0]["field"]) == (400, field)
    assert ask.post("enrolments/", asked)[0] == 201
