"""The two views of everything stored: the list with its filters, and one of it."""

from django.http import Http404
from rest_framework.response import Response
from rest_framework.views import APIView

from api.cooperative import cooperative_of
from api.filtering import filtered
from api.pagination import PAGE_PARAMETERS, paged, read_page
from api.question import nothing_asked


def shared(select):
    """A selector of what belongs to nobody, called like those of what belongs to a cooperative."""
    return staticmethod(lambda _cooperative: select())


class Rows(APIView):
    """A list. A subject says what it selects, filters and shows."""

    select = filters = output = None

    def get(self, request):
        page = read_page(request, besides=self.filters.base_filters)
        rows = self.select(cooperative_of(request))
        answer = paged(filtered(self.filters, request, rows, besides=PAGE_PARAMETERS), request, **page)
        answer["results"] = self.output(answer["results"], many=True).data
        return Response(answer)


class Row(APIView):
    """One of the list, found by what its address names."""

    select = output = None

    def get(self, request, **named):
        nothing_asked(request)
        row = self.select(cooperative_of(request)).filter(**named).first()
        if row is None:
            raise Http404
        return Response(self.output(row).data)


class Nowhere(APIView):
    """Any other address below the interface."""

    schema = None

    def get(self, request):
        raise Http404
