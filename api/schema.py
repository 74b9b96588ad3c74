from functools import cache

from rest_framework.response import Response
from rest_framework.views import APIView

from api.question import nothing_asked
from api.roles import ANYBODY


@cache
def description():
    # 0.4 s to import, and needed by nobody who only sends fish.
    from drf_spectacular.generators import SchemaGenerator

    return SchemaGenerator().get_schema(public=True)


class Description(APIView):
    """The whole interface as OpenAPI."""

    may = {"GET": ANYBODY}
    authentication_classes = ()
    schema = None

    def get(self, request):
        nothing_asked(request)
        return Response(description())
