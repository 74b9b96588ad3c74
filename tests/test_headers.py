"""What every answer tells a browser, whichever part of the server made it."""

import pytest
from django.http import HttpResponse
from django.test import Client

from coop.headers import OFF, security_headers
from tests.test_screens import get

__all__ = ["get"]

ANSWERS = {
    "a screen": ("/departures/7", 200),
    "a file": ("/assets/main-Bx4kQ1z9.js", 200),
    "the worker": ("/sw.js", 200),
    "a missing file": ("/assets/gone.js", 404),
    "a file of the tables": ("/static/admin/css/base.css", 200),
    "the tables": ("/admin/", 302),
    "the door of the tables": ("/admin/login/", 200),
    "the interface": ("/api/v1/schema/", 200),
    "a visitor turned away": ("/api/v1/places/", 401),
    "nowhere": ("/api/v1/nowhere/", 404),
}


def policy(answer):
    """Directive → sources: CSP Level 3, §2.2.1 (parse a serialized policy)."""
    parts = [part.split() for part in answer["Content-Security-Policy"].split(";")]
    return {name: sources for name, *sources in parts}


def is_guarded(answer):
    said = policy(answer)
    # What each is for: CSP Level 3, §6; `default-src` stands in for every fetch directive that is not named.
    assert said["default-src"] == ["'self'"]
    assert set(said) == {"default-src", "object-src", "base-uri", "form-action", "frame-ancestors"}
    assert said["object-src"] == said["base-uri"] == said["frame-ancestors"] == ["'none'"]
    assert said["form-action"] == ["'self'"]
    assert answer["X-Content-Type-Options"] == "nosniff"
    assert answer["X-Frame-Options"] == "DENY"
    assert answer["Referrer-Policy"] in ("same-origin", "no-referrer")
    assert answer["Cross-Origin-Opener-Policy"] == answer["Cross-Origin-Resource-Policy"] == "same-origin"
    # An empty list allows it to nobody: Permissions Policy, §5.1.
    assert {part.strip() for part in answer["Permissions-Policy"].split(",")} == {
        f"{name}=()" for name in OFF
    }
    return True


@pytest.mark.django_db
@pytest.mark.parametrize("named", ANSWERS)
def test_every_answer_is_guarded(get, named):
    address, status = ANSWERS[named]
    answer = get(address)
    assert answer.status_code == status
    assert is_guarded(answer)


def test_a_page_that_has_not_changed_is_guarded(get):
    answer = get("/", if_none_match=get("/")["ETag"])
    assert answer.status_code == 304
    assert is_guarded(answer)


def test_a_strange_host_is_refused_under_guard(get):
    answer = get("/api/v1/schema/", host="elsewhere.example")
    assert answer.status_code == 400
    assert is_guarded(answer)


def test_in_production_a_strange_host_and_the_way_to_encryption_are_guarded(get, settings):
    settings.SECURE_SSL_REDIRECT = True
    answer, strange = get("/sw.js"), get("/sw.js", host="elsewhere.example")
    assert (answer.status_code, answer["Location"]) == (301, "https://testserver/sw.js")
    assert strange.status_code == 400
    assert is_guarded(answer)
    assert is_guarded(strange)


def test_a_fault_of_ours_is_guarded(monkeypatch):
    def broken(*_arguments, **_named):
        raise ZeroDivisionError

    monkeypatch.setattr("api.roles.person_of", broken)
    answer = Client(raise_request_exception=False).get("/api/v1/places/")
    assert answer.status_code == 500
    assert is_guarded(answer)


def test_what_an_answer_says_itself_stays():
    stricter = HttpResponse(headers={"Referrer-Policy": "no-referrer"})
    answer = security_headers(lambda _request: stricter)(None)
    assert answer["Referrer-Policy"] == "no-referrer"
    assert answer["X-Frame-Options"] == "DENY"
