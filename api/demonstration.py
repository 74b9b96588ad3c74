"""In the demonstration anybody may look as anybody of the invented cooperative. Elsewhere there is none."""

from django.utils import timezone
from rest_framework import serializers
from rest_framework.response import Response
from rest_framework.views import APIView

from api.body import read_body
from api.callers import limit
from api.me import HolderOut
from api.question import nothing_asked
from api.question_fields import LARGEST
from api.roles import ANYBODY
from coop.selectors.cooperatives import demo_cooperative
from coop.selectors.members import present_members_of
from coop.services.demonstration import look_as


class PeopleOut(serializers.Serializer):
    people = HolderOut(many=True)

    example = {"people": [HolderOut.example]}


class LookIn(serializers.Serializer):
    member = serializers.IntegerField(min_value=1, max_value=LARGEST)

    example = {"member": 3}


class LookOut(serializers.Serializer):
    code = serializers.CharField()
    expires_at = serializers.DateTimeField()

    example = {"code": "7KQ2M-XW94C", "expires_at": "2026-03-02T06:10:00Z"}


class Demonstration(APIView):
    """Its people, and a code to look as one of them."""

    may = {"GET": ANYBODY, "POST": ANYBODY}
    authentication_classes = ()
    body = {"POST": LookIn}
    output = {"GET": PeopleOut, "POST": LookOut}
    status = {"POST": 201}

    def get(self, request):
        nothing_asked(request)
        return Response(PeopleOut({"people": present_members_of(demo_cooperative())}).data)

    def post(self, request):
        asked = read_body(LookIn, request)
        limit("demonstration").spend(request)
        code, words = look_as(**asked, at=timezone.now())
        return Response({"code": words, "expires_at": code.expires_at}, status=201)
