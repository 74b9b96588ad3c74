"""The same holder at another address gets what she would get there herself."""

import json

import pytest
from django.test import RequestFactory

from api.elsewhere import response_at
from tests.api.people import cast, client_of, token_for
from tests.factories.lots import LotFactory


@pytest.fixture
def people(ours, theirs):
    return cast(ours, theirs)


def writing(member):
    """A write of hers that is under way, somewhere else."""
    headers = {"authorization": f"Token {token_for(member)}"}
    return RequestFactory(headers=headers).patch("/api/v1/me/", {"note": "x"}, "application/json")


def test_it_is_what_she_is_shown_there(people):
    address = f"/api/v1/lots/{LotFactory(cooperative=people.ours, member=people.owner).uuid}/"
    answer = response_at(writing(people.owner), address).render()
    assert (answer.status_code, json.loads(answer.content)) == (
        200,
        client_of(people.owner).get(address).json(),
    )


def test_the_query_counts_there(people):
    LotFactory(cooperative=people.ours, member=people.owner)
    found = [
        response_at(writing(people.owner), "/api/v1/lots/", query).data["count"]
        for query in ("", "state=withdrawn")
    ]
    assert found == [1, 0]


def test_what_a_stranger_may_not_see_is_refused_there_too(people):
    address = f"/api/v1/lots/{LotFactory(cooperative=people.ours, member=people.owner).uuid}/"
    assert response_at(writing(people.stranger), address).status_code == 404
