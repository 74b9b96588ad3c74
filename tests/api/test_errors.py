import json

import pytest
from django.core.exceptions import PermissionDenied
from django.http import Http404
from django.test import Client
from rest_framework import exceptions

from api.errors import answer, plain, shape, shown
from coop import errors


def is_of_the_one_shape(body):
    error = body["error"]
    return (
        set(body) == {"error"}
        and set(error) == {"code", "message", "fields"}
        and all(set(field) == {"field", "value", "problem", "right"} for field in error["fields"])
    )


@pytest.mark.parametrize(
    ("failure", "status", "code"),
    [
        (errors.invalid("mass_kg", 500, "is more than fits", "at most 100 kg"), 400, "invalid"),
        (errors.Invalid("These do not agree."), 400, "invalid"),
        (errors.NotFound("There is no such route."), 404, "not_found"),
        (errors.NotAllowed("That belongs to somebody else."), 403, "not_allowed"),
        (errors.Conflict("Somebody was faster."), 409, "conflict"),
        (errors.NotKnown("Enrol this phone."), 401, "not_known"),
        (errors.TooLarge("This is too long."), 413, "too_large"),
        (errors.TooMany("Wait a while.", 90), 429, "too_many"),
        (exceptions.NotAuthenticated(), 401, "not_known"),
        (exceptions.UnsupportedMediaType("text/xml"), 415, "invalid"),
        (Http404(), 404, "not_found"),
        (PermissionDenied(), 403, "not_allowed"),
        (exceptions.ParseError(), 400, "invalid"),
        (exceptions.NotAcceptable(), 406, "invalid"),
    ],
)
def test_every_failure_has_one_shape(failure, status, code):
    response = answer(failure, {})
    assert response.status_code == status
    assert response.data["error"]["code"] == code
    assert is_of_the_one_shape(response.data)


def test_who_is_not_known_hears_what_is_wanted_and_who_waits_hears_how_long():
    assert answer(errors.NotKnown("Enrol this phone."), {})["WWW-Authenticate"] == "Token"
    assert answer(errors.TooMany("Wait a while.", 90), {})["Retry-After"] == "90"


def test_a_view_outside_of_the_framework_fails_in_the_same_shape():
    for failure in (
        errors.TooMany("Wait a while.", 90),
        errors.invalid("kg", "0", "is nothing", "1 up"),
    ):
        inside, outside = answer(failure, {}), plain(failure)
        assert json.loads(outside.content) == inside.data
        assert outside.status_code == inside.status_code
    assert plain(errors.TooMany("Wait a while.", 90))["Retry-After"] == "90"


def test_a_fault_of_ours_is_not_dressed_up_as_anything_else():
    assert answer(ZeroDivisionError(), {}) is None


def test_a_problem_says_field_value_and_what_would_be_right():
    failure = errors.invalid("mass_kg", 500.0, "is more than fits", "at most 100 kg")
    assert shape(failure.code, failure.message, failure.problems) == {
        "error": {
            "code": "invalid",
            "message": "mass_kg: is more than fits; right is at most 100 kg",
            "fields": [
                {
                    "field": "mass_kg",
                    "value": "500.0",
                    "problem": "is more than fits",
                    "right": "at most 100 kg",
                }
            ],
        }
    }


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (None, None),
        (-18.5, "-18.5"),
        (["1", "2"], "1, 2"),
        ("x" * 80, "x" * 80),
        ("x" * 5000, "x" * 79 + "…"),
    ],
)
def test_a_value_is_shown_as_it_was_given_and_not_longer_than_a_line(value, text):
    assert shown(value) == text


@pytest.mark.parametrize(
    ("address", "status", "code"),
    [
        ("/api/v1/", 404, "not_found"),
        ("/api/v1/boats/", 404, "not_found"),
        ("/api/v1/places", 404, "not_found"),
        ("/api/v1/members/anna/", 404, "not_found"),
        ("/api/v2/places/", 404, "not_found"),
        ("/nothing.png", 404, "not_found"),
    ],
)
def test_an_address_that_leads_nowhere_fails_in_that_shape(address, status, code):
    response = Client().get(address)
    assert response.status_code == status
    assert response.json()["error"]["code"] == code
    assert is_of_the_one_shape(response.json())


@pytest.mark.parametrize("method", ["post", "put", "patch", "delete"])
@pytest.mark.parametrize("address", ["/api/v1/boats/", "/api/v1/phones/no-id/revoke/", "/api/v1/lots/7/"])
def test_what_is_sent_to_nowhere_fails_in_that_shape(method, address):
    response = getattr(Client(), method)(address)
    assert response.status_code == 404
    assert is_of_the_one_shape(response.json())


@pytest.mark.parametrize("method", ["post", "put", "patch", "delete", "trace"])
@pytest.mark.parametrize("address", ["/api/v1/places/", "/api/v1/places/kasama/", "/api/v1/schema/"])
def test_nothing_can_be_written(method, address):
    response = getattr(Client(), method)(address)
    assert response.status_code == 405
    assert response["Allow"] == "GET, HEAD, OPTIONS"
    assert response.json()["error"]["code"] == "not_allowed"
    assert is_of_the_one_shape(response.json())


def test_a_strange_host_is_refused_in_that_shape():
    response = Client(headers={"host": "elsewhere.example"}).get("/api/v1/places/")
    assert response.status_code == 400
    assert is_of_the_one_shape(response.json())


@pytest.mark.django_db
def test_without_a_demonstration_a_visitor_is_told_how_to_load_it_or_to_enrol():
    response = Client().get("/api/v1/places/")
    assert response.status_code == 401
    assert response["WWW-Authenticate"] == "Token"
    assert "enrol this phone" in response.json()["error"]["message"]
    assert "manage.py demo" in response.json()["error"]["message"]


def test_a_fault_of_ours_has_that_shape_keeps_its_words_inside_and_is_logged(monkeypatch, caplog):
    def broken(*_arguments, **_named):
        raise ZeroDivisionError("inside words")

    monkeypatch.setattr("api.roles.person_of", broken)
    response = Client(raise_request_exception=False).get("/api/v1/places/")
    assert response.status_code == 500
    assert is_of_the_one_shape(response.json())
    assert b"inside" not in response.content
    assert "inside words" in caplog.text
