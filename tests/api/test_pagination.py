import pytest
from rest_framework.request import Request
from rest_framework.test import APIRequestFactory

from api.pagination import paged, read_page
from coop.errors import Invalid


def asked(query=""):
    return Request(APIRequestFactory().get(f"/api/v1/x/{query}"))


def page(query, rows):
    request = asked(query)
    return paged(rows, request, **read_page(request, besides=["kept"]))


def test_the_pages_of_a_list_are_the_list():
    rows = list(range(25))
    pages = [page(f"?page_size=10&page={number}", rows) for number in (1, 2, 3)]
    assert [row for one in pages for row in one["results"]] == rows
    assert {one["count"] for one in pages} == {25}


def test_each_page_names_the_pages_beside_it():
    middle = page("?page=2&page_size=10&kept=1", list(range(25)))
    assert middle["next"] == "http://testserver/api/v1/x/?kept=1&page=3&page_size=10"
    assert middle["previous"] == "http://testserver/api/v1/x/?kept=1&page_size=10"
    assert page("?page=3&page_size=10", list(range(25)))["next"] is None
    assert page("", list(range(25)))["previous"] is None


def test_an_empty_list_has_one_empty_page():
    assert page("", []) == {"count": 0, "next": None, "previous": None, "results": []}


@pytest.mark.parametrize(
    ("query", "right"),
    [
        ("?page=4&page_size=10", "a whole number from 1 to 3"),
        ("?page=0", "a whole number from 1 to 1000000"),
        ("?page=last", "a whole number from 1 to 1000000"),
        ("?page_size=101", "a whole number from 1 to 100"),
        ("?page_size=-1", "a whole number from 1 to 100"),
    ],
)
def test_a_page_that_does_not_exist_is_refused_with_those_that_do(query, right):
    with pytest.raises(Invalid) as failure:
        page(query, list(range(25)))
    assert failure.value.problems[0].right == right
