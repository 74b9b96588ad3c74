"""Every route × everybody: visitor, owner, fellow, packer, manager, strangers, and who has a wrong token."""

import re

import pytest
from django.test import Client
from rest_framework.views import APIView

from api import urls
from api.roles import ANYBODY, MANAGERS, MEMBERS, PACKERS, VISITORS, MayAsk
from coop.errors import NotAllowed, NotKnown
from tests.api import role_table
from tests.api.people import Asking, asking_as, cast
from tests.api.role_table import ROWS, SEVEN
from tests.api.test_errors import is_of_the_one_shape

METHODS = ("get", "post", "put", "patch", "delete")
BAD_TOKEN = "0" * 64


def named(row):
    return f"{row.method} {row.address}"


@pytest.fixture
def people(ours, theirs):
    return cast(ours, theirs)


def asking(who, people):
    if who == "visitor":
        return Asking()
    if who == "bad token":
        return Asking(Client(headers={"authorization": f"Token {BAD_TOKEN}"}))
    return asking_as(getattr(people, who), people.phone if who == "owner" else None)


def answer(row, who, people):
    """Status and body of a route as somebody gets it."""
    ask = asking(who, people)
    name = row.named(people) if row.named else None
    # Every parcel of the table has a carton 1.
    address = re.sub(r"<\w+:\w+>", str(name), row.address.replace("<int:position>", "1"))
    body = row.body(people) if row.body else None
    if row.method == "GET":
        return ask(address, **(row.query(people) if row.query else {}))
    return {"POST": ask.post, "PATCH": ask.patch}[row.method](address, body)


def expected(row, who):
    if who == "bad token":
        return row.statuses[0] if row.anybody else 401
    return row.statuses[SEVEN.index(who)]


@pytest.mark.parametrize("who", [*SEVEN, "bad token"])
@pytest.mark.parametrize("row", ROWS, ids=named)
def test_everybody_gets_what_is_hers_and_no_more(row, who, people):
    status, body = answer(row, who, people)
    assert status == expected(row, who), body
    if status >= 400:
        assert is_of_the_one_shape(body)
    if who.startswith("strange") and not row.anybody:
        assert "of ours" not in str(body)


def handlers(view):
    return {method.upper() for method in METHODS if hasattr(view, method)}


def routes():
    return [(str(one.pattern), one.callback.cls) for one in urls.urlpatterns]


def test_every_route_with_every_method_stands_in_the_table_once():
    there = sorted(f"{method} {address}" for address, view in routes() for method in handlers(view))
    assert sorted(map(named, ROWS)) == there


def test_a_route_that_is_missing_from_the_table_is_found(monkeypatch):
    monkeypatch.setattr("tests.api.test_roles.ROWS", ROWS[1:])
    with pytest.raises(AssertionError):
        test_every_route_with_every_method_stands_in_the_table_once()


@pytest.mark.parametrize(("address", "view"), routes())
def test_every_view_says_who_may_for_each_of_its_methods(address, view):
    assert set(view.may) == handlers(view)
    assert all(allowed in (VISITORS, MEMBERS, PACKERS, MANAGERS, ANYBODY) for allowed in view.may.values())


@pytest.mark.parametrize(("address", "view"), routes())
def test_a_view_reads_a_token_unless_it_is_for_anybody(address, view):
    open_to_anybody = all(allowed is ANYBODY for allowed in view.may.values())
    assert (view.authentication_classes == ()) == open_to_anybody
    assert view.permission_classes == [MayAsk]


class Silent(APIView):
    """Says nothing of who may."""

    def get(self, request):
        raise AssertionError("nobody comes so far")


class Half(Silent):
    may = {"POST": MEMBERS}


@pytest.mark.django_db
@pytest.mark.parametrize("view", [Silent, Half])
@pytest.mark.parametrize("who", SEVEN)
def test_what_a_view_does_not_say_is_allowed_to_nobody(view, who, people):
    request = view().initialize_request(asking(who, people).client.get("/api/v1/me/").wsgi_request)
    with pytest.raises(NotKnown if who == "visitor" else NotAllowed):
        MayAsk().has_permission(request, view())


def test_the_statuses_of_the_table_say_something_of_everybody():
    assert all(len(row.statuses) == len(SEVEN) for row in ROWS)
    assert role_table.MANAGERS[0] != role_table.MANAGERS[1] != role_table.MANAGERS[4]
