import gzip

import pytest
from django.test import Client

from coop.screens import is_screen

PAGE = "<!doctype html><title>Carton Hour</title>" + "<p>fish</p>" * 200


@pytest.fixture
def get(tmp_path, settings):
    """Asks for an address of screens that are built; answers with the body read."""
    folder = tmp_path / "dist"
    (folder / "assets").mkdir(parents=True)
    (folder / "index.html").write_text(PAGE)
    (folder / "index.html.gz").write_bytes(gzip.compress(PAGE.encode()))
    (folder / "sw.js").write_text("self.skipWaiting")
    (folder / "manifest.webmanifest").write_text("{}")
    (folder / "icon-192.png").write_bytes(b"an icon")
    (folder / "assets/main-Bx4kQ1z9.js").write_text("export {}")
    settings.SCREENS = folder
    return ask


def ask(address, **headers):
    answer = Client().get(address, headers=headers)
    answer.body = answer.getvalue() if answer.streaming else answer.content
    return answer


@pytest.mark.parametrize("address", ["/", "/departures/7-20260302-common-carton", "/packing", "/index.html"])
def test_every_address_of_a_screen_answers_with_the_page(get, address):
    answer = get(address)
    assert answer.status_code == 200
    assert answer["Content-Type"].startswith("text/html")
    assert answer["Cache-Control"] == "no-cache"
    assert answer.body.decode() == PAGE


def test_the_page_travels_compressed_to_who_takes_that(get):
    answer = get("/departures/7", accept_encoding="gzip")
    assert answer["Content-Encoding"] == "gzip"
    assert "Accept-Encoding" in answer["Vary"]
    assert gzip.decompress(answer.body).decode() == PAGE


def test_the_worker_and_the_manifest_are_asked_for_anew(get):
    worker, manifest = get("/sw.js"), get("/manifest.webmanifest")
    assert worker["Content-Type"].split(";")[0] in ("text/javascript", "application/javascript")
    assert manifest["Content-Type"].split(";")[0] == "application/manifest+json"
    assert {worker["Cache-Control"], manifest["Cache-Control"]} == {"no-cache"}


def test_files_named_by_their_content_are_kept_for_ever(get):
    assert "immutable" in get("/assets/main-Bx4kQ1z9.js")["Cache-Control"]


def test_a_page_that_has_not_changed_is_not_sent_again(get):
    tag = get("/")["ETag"]
    answer = get("/", if_none_match=tag)
    assert (answer.status_code, answer.body) == (304, b"")


@pytest.mark.parametrize("address", ["/assets/gone.js", "/favicon.png", "/departures.json", "/static/gone"])
def test_a_missing_file_is_missing_and_never_the_page(get, address):
    answer = get(address)
    assert answer.status_code == 404
    assert answer.json()["error"]["code"] == "not_found"


def test_the_icon_that_browsers_ask_for_by_themselves_is_there(get):
    answer = get("/favicon.ico")
    assert (answer.status_code, answer["Content-Type"], answer.body) == (200, "image/png", b"an icon")


@pytest.mark.parametrize(
    "address", ["/api/v1/places/", "/admin/", "/static/admin/css", "/q/secret/", "/calendar/secret.ics"]
)
def test_the_servers_own_addresses_are_no_screens(address):
    assert not is_screen(address)


def test_screens_that_are_not_built_say_how_to_build_them(settings, tmp_path):
    settings.SCREENS = tmp_path / "nothing"
    answer = ask("/")
    assert answer.status_code == 503
    assert b"manage.py demo" in answer.body
