"""The two views of everything stored: the list with its filters, and one of it."""

from django.http import Http404
from rest_framework.response import Response
from rest_framework.views import APIView

from api.cooperative import person_of
from api.filtering import filtered
from api.pagination import PAGE_PARAMETERS, paged, read_page
from api.question import nothing_asked
from api.roles import ANYBODY


def shared(select):
    """A selector of what belongs to nobody, called like those of what belongs to a cooperative."""
    return staticmethod(lambda _cooperative: select())


def one_of(rows, **named):
    """The one row of ours that an address names; another cooperative's is as missing as none at all."""
    row = rows.filter(**named).first()
    if row is None:
        raise Http404
    return row


def of_method(said, method):
    """What a view says of one method, where it says it method by method; else what it says of all."""
    return said.get(method) if isinstance(said, dict) else said


class Selected(APIView):
    """What a subject selects of a cooperative, or with `select_for` of what one person of it may see."""

    select = select_for = None

    def rows_for(self, person):
        return self.select_for(person) if self.select_for else self.select(person.cooperative)


class Rows(Selected):
    """A list. A subject says what it selects, filters and shows."""

    filters = output = None

    def get(self, request):
        page, person = read_page(request, besides=self.filters.base_filters), person_of(request)
        rows = filtered(self.filters, request, self.rows_for(person), besides=PAGE_PARAMETERS)
        answer, output = paged(rows, request, **page), of_method(self.output, "GET")
        answer["results"] = output(answer["results"], many=True, context={"person": person}).data
        return Response(answer)


class Row(Selected):
    """One of the list, found by what its address names."""

    output = None

    def get(self, request, **named):
        nothing_asked(request)
        person, output = person_of(request), of_method(self.output, "GET")
        row = one_of(self.rows_for(person), **named)
        return Response(output(row, context={"person": person}).data)


class Nowhere(APIView):
    """Any other address below the interface."""

    may = {"GET": ANYBODY}
    authentication_classes = ()
    schema = None

    def get(self, request):
        raise Http404

    def http_method_not_allowed(self, request):
        """There is nothing here to read either: that says more than which methods it lacks."""
        raise Http404
