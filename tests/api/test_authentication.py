"""What a request is taken for by the header that it carries: a wrong one makes nobody a visitor."""

from datetime import date, timedelta

import pytest
from django.test import Client

from tests.api.people import asking_as, client_of, somebody
from tests.factories.phones import PhoneFactory, token_for


def status(header):
    response = Client(headers={"authorization": header}).get("/api/v1/places/")
    return response.status_code, response.get("WWW-Authenticate")


def test_a_good_token_is_read_in_any_case_of_its_scheme(ours):
    words = token_for(somebody(ours))
    for scheme in ("Token", "token", "TOKEN"):
        assert status(f"{scheme} {words}") == (200, None)
    assert status(f"Token   {words} ") == (200, None)


@pytest.mark.parametrize(
    "header",
    [
        "Token",
        "Token ",
        "Token " + "0" * 64,
        "Token a b",
        "Token é",
        "Token \xff\xfe",
        "Token " + "a" * 5000,
        "Bearer " + "0" * 64,
        "Basic ZGVtbzpkZW1v",
        "Token' OR 1=1 --",
        "nonsense",
    ],
)
def test_a_header_that_is_no_token_of_ours_is_refused_in_the_one_shape(ours, header):
    assert status(header) == (401, "Token")
    body = Client(headers={"authorization": header}).get("/api/v1/places/").json()
    assert body["error"]["code"] == "not_known"


def test_a_token_in_the_address_or_a_session_of_the_tables_lets_nobody_in(ours, admin_client):
    words = token_for(somebody(ours))
    assert Client().get("/api/v1/me/", {"token": words}).status_code == 401
    assert admin_client.get("/api/v1/me/").status_code == 401


def test_an_expired_token_is_out_on_every_route(ours):
    words = token_for(somebody(ours), expiry=timedelta(seconds=-1))
    for address in ("me/", "places/", "departures/"):
        client = Client(headers={"authorization": f"Token {words}"})
        assert client.get(f"/api/v1/{address}").status_code == 401


def test_a_revoked_phone_is_out_at_its_next_request_and_so_is_who_else_holds_it(ours, ask_as_manager):
    phone = PhoneFactory(cooperative=ours)
    hers, fellows = (asking_as(somebody(ours), phone) for _ in range(2))
    assert hers("me/")[0] == fellows("me/")[0] == 200
    assert ask_as_manager.post(f"phones/{phone.uuid}/revoke/")[0] == 200
    assert hers("me/")[0] == fellows("me/")[0] == hers("places/")[0] == 401


def test_who_left_is_out_at_her_next_request(ours, ask_as_manager):
    member = somebody(ours, joined_on=date(2024, 1, 20))
    hers = asking_as(member)
    assert hers("places/")[0] == 200
    assert ask_as_manager.patch(f"members/{member.pk}/", {"left_on": "2026-03-02"})[0] == 200
    assert hers("places/")[0] == 401


def test_another_role_counts_from_the_next_request_on(ours, ask_as_manager):
    member = somebody(ours)
    hers = asking_as(member)
    assert hers("phones/")[0] == 403
    assert ask_as_manager.patch(f"members/{member.pk}/", {"role": "manager"})[0] == 200
    assert hers("phones/")[0] == 200


def test_who_asks_is_found_in_one_look_however_many_phones_there_are(ours, django_assert_num_queries):
    member = somebody(ours)
    for _ in range(5):
        token_for(member)
    client = client_of(member)
    with django_assert_num_queries(1):
        assert client.get("/api/v1/me/").status_code == 200


def test_words_of_tokens_and_codes_reach_no_log(ours, ask_as_manager, caplog, capfd):
    caplog.set_level("DEBUG")
    member = somebody(ours)
    status, made = ask_as_manager.post("enrolment-codes/", {"member": member.pk})
    assert status == 201
    answer = Client().post(
        "/api/v1/enrolments/", {"code": made["code"], "phone_name": "x"}, content_type="application/json"
    )
    token = answer.json()["token"]
    Client(headers={"authorization": f"Token {token}"}).get("/api/v1/me/")
    logged = caplog.text + "".join(capfd.readouterr())
    assert token not in logged
    assert made["code"] not in logged
