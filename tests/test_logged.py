import logging

import pytest

from coop.logged import WithoutSecrets, without_secrets


@pytest.mark.parametrize(
    ("logged", "kept"),
    [
        (
            "Internal Server Error: /q/LOT4uY0lt9o5Yq6tNZ8nCbVd3x/accept/",
            "Internal Server Error: /q/…/accept/",
        ),
        ("GET /calendar/0Yw-_Qk.ics?x=1 HTTP/1.1", "GET /calendar/…?x=1 HTTP/1.1"),
        ("/api/v1/quotes/ and /queries/abc", "/api/v1/quotes/ and /queries/abc"),
    ],
)
def test_the_secret_of_an_address_is_left_out(logged, kept):
    assert without_secrets(logged) == kept


def test_a_record_is_written_without_the_secrets_of_its_arguments():
    record = logging.makeLogRecord({"msg": "%s: %s", "args": ("Not Found", "/q/abcdef/")})
    assert WithoutSecrets().filter(record)
    assert record.getMessage() == "Not Found: /q/…/"


def test_every_handler_leaves_secrets_out(settings):
    assert all("without_secrets" in one["filters"] for one in settings.LOGGING["handlers"].values())
