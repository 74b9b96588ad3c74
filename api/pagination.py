"""Long answers come in pages: {count, next, previous, results}."""

from django.core.paginator import Paginator
from rest_framework import serializers
from rest_framework.utils.urls import remove_query_param, replace_query_param

from api.question import read
from coop.errors import invalid

MOST = 100
USUAL = 50


class PageQuestion(serializers.Serializer):
    """A question with parameters of its own inherits from it; `read` then hands page and page_size over."""

    page = serializers.IntegerField(min_value=1, max_value=1_000_000, default=1)
    page_size = serializers.IntegerField(min_value=1, max_value=MOST, default=USUAL)


PAGE_PARAMETERS = ("page", "page_size")


def read_page(request, *, besides=()):
    """The page that a list was asked for; `besides` names the parameters that others read."""
    return read(PageQuestion, request, besides=besides)


def paged(rows, request, *, page, page_size):
    """One page of a queryset or a list, with the addresses of the pages beside it."""
    pages = Paginator(rows, page_size)
    if page > pages.num_pages:
        raise invalid("page", page, "is after the last page", f"a whole number from 1 to {pages.num_pages}")
    current = pages.page(page)
    address = request.build_absolute_uri()
    return {
        "count": pages.count,
        "next": replace_query_param(address, "page", page + 1) if current.has_next() else None,
        "previous": before(address, page) if current.has_previous() else None,
        "results": current.object_list,
    }


def before(address, page):
    """The first page needs no number: it then has one address, and is kept once."""
    return (
        remove_query_param(address, "page") if page == 2 else replace_query_param(address, "page", page - 1)
    )
