"""The rules that hold for every list, tried on every list."""

import gzip

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from api import urls
from tests.api.routes import ROUTES

every = pytest.mark.parametrize("route", ROUTES, ids=lambda route: route.address)
BESIDES = {"cooperatives/", "payments/", "statements/"}
"""Lists of another kind, each with tests of its own."""


@pytest.fixture
def ask(ask_as_manager):
    """Not every list is for visitors: `test_roles` says which are."""
    return ask_as_manager


def key_of(row, route):
    """What names a row from outside, as JSON carries it."""
    return str(row.uuid) if route.key == "uuid" else getattr(row, route.key)


def found(ask, route):
    name = "id" if route.key == "uuid" else route.key
    return [row[name] for row in ask(f"{route.address}/", page_size=100)[1]["results"]]


@every
def test_one_row_and_thirty_cost_the_same_number_of_queries(route, ask, ours):
    def queries():
        with CaptureQueriesContext(
            connection,
        ) as seen:
            status, answer = ask(f"{route.address}/", page_size=100)
        assert status == 200
        return len(seen), answer["count"]

    route.make(ours)
    one, count = queries()
    for _ in range(29):
        route.make(ours)
    assert queries() == (one, count + 29)


@every
def test_a_list_shows_ours_and_hides_what_belongs_to_strangers(route, ask, ours, theirs):
    own, strange = route.make(ours), route.make(theirs)
    keys = found(ask, route)
    assert key_of(own, route) in keys
    assert (key_of(strange, route) in keys) == route.shared


@every
def test_one_row_is_found_by_its_address_and_looks_as_in_the_list(route, ask, ours):
    key = key_of(route.make(ours), route)
    status, row = ask(f"{route.address}/{key}/")
    assert status == 200
    assert row in ask(f"{route.address}/")[1]["results"]


@every
def test_a_row_of_strangers_does_not_exist(route, ask, theirs):
    key = key_of(route.make(theirs), route)
    status, answer = ask(f"{route.address}/{key}/")
    assert status == (200 if route.shared else 404)
    if not route.shared:
        assert answer["error"]["code"] == "not_found"


@every
@pytest.mark.parametrize("query", [{"weight": "3"}, {"format": "xml"}, {"page": "x"}, {"page_size": "1000"}])
def test_what_a_list_does_not_know_is_refused(route, ask, query):
    status, answer = ask(f"{route.address}/", **query)
    assert status == 400
    assert answer["error"]["fields"][0]["field"] in query


@every
def test_one_row_takes_no_parameters(route, ask, ours):
    key = key_of(route.make(ours), route)
    assert ask(f"{route.address}/{key}/", page="1")[0] == 400


@every
@pytest.mark.parametrize("key", ["0", "999999999999999999999999999", "-1", "nobody", "%00", "é"])
def test_a_row_that_is_not_there_is_missing(route, ask, key):
    status, answer = ask(f"{route.address}/{key}/")
    assert status == 404
    assert answer["error"]["fields"] == []


def test_every_list_of_the_interface_stands_in_the_table():
    listed = {str(one.pattern) for one in urls.urlpatterns if hasattr(one.callback.cls, "filters")}
    assert listed == {f"{route.address}/" for route in ROUTES} | BESIDES


def test_the_only_cooperative_that_is_shown_is_ours(ask, ours, theirs):
    assert [row["slug"] for row in ask("cooperatives/")[1]["results"]] == [ours.slug]
    assert ask(f"cooperatives/{ours.slug}/")[0] == 200
    assert ask(f"cooperatives/{theirs.slug}/")[0] == 404


def test_pages_of_a_list_hold_each_row_once(ask, ours):
    route = next(route for route in ROUTES if route.address == "carriers")
    made = {route.make(ours).id for _ in range(7)}
    pages = [ask("carriers/", page=page, page_size=3)[1] for page in (1, 2, 3)]
    shown = [row["id"] for page in pages for row in page["results"]]
    assert len(shown) == 7
    assert set(shown) == made
    assert pages[2]["next"] is None


def test_an_answer_that_has_not_changed_is_not_sent_again(ours):
    first = Client().get("/api/v1/cooperatives/")
    again = Client().get("/api/v1/cooperatives/", headers={"if-none-match": first["ETag"]})
    assert (again.status_code, again.content) == (304, b"")
    ours.name = "Another name"
    ours.save()
    changed = Client().get("/api/v1/cooperatives/", headers={"if-none-match": first["ETag"]})
    assert changed.status_code == 200


def test_a_long_answer_travels_compressed(ask, ours):
    route = next(route for route in ROUTES if route.address == "routes")
    for _ in range(5):
        route.make(ours)
    plain = Client().get("/api/v1/routes/")
    small = Client().get("/api/v1/routes/", headers={"accept-encoding": "gzip"})
    assert small["Content-Encoding"] == "gzip"
    assert gzip.decompress(small.content) == plain.content
    assert len(small.content) < len(plain.content) / 2
