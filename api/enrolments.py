"""A phone is enrolled with a one-time code, and gets a token of its own."""

from django.utils import timezone
from rest_framework import serializers
from rest_framework.response import Response
from rest_framework.views import APIView

from api.body import Secret, read_body
from api.callers import limit
from api.me import MeOut, PhoneName
from api.roles import ANYBODY
from coop.errors import Invalid
from coop.services.enrolments import enrol_phone


class DeviceIn(serializers.Serializer):
    """The phone that asks; `phone` is its id where another holder has enrolled it already."""

    phone_name = serializers.CharField(max_length=60)
    phone = serializers.UUIDField(required=False, allow_null=True, default=None)

    example = {"phone_name": "the one at the landing", "phone": None}


class EnrolmentIn(DeviceIn):
    code = Secret(max_length=20, help_text="the 10 letters and digits that the manager gave")

    example = {"code": "7KQ2M-XW94C", **DeviceIn.example}


class SessionOut(serializers.Serializer):
    token = serializers.CharField(help_text="sent with every request as `Authorization: Token …`")
    expires_at = serializers.DateTimeField()
    phone = PhoneName()
    me = MeOut()

    example = {
        "token": "5f0c2a9e7d1b4c6f8a3e5d7c9b1f2e4a6c8d0b2f4e6a8c0d1f3b5e7a9c2d4f60",
        "expires_at": "2026-08-29T06:00:00Z",
        "phone": PhoneName.example,
        "me": MeOut.example,
    }


def session_of(session):
    """SessionOut of a service's Session."""
    member, phone = session.member, session.phone
    me = {"member": member, "cooperative": member.cooperative, "phone": phone}
    return SessionOut({**session._asdict(), "me": me}).data


class Enrolments(APIView):
    """Enrols this phone for the member whose code it is. A code counts once."""

    may = {"POST": ANYBODY}
    authentication_classes = ()
    body = {"POST": EnrolmentIn}
    output = SessionOut
    status = {"POST": 201}

    def post(self, request):
        asked = read_body(EnrolmentIn, request)
        with limit("enrolments").counting_failures(request, Invalid):
            session = enrol_phone(**asked, at=timezone.now())
        return Response(session_of(session), status=201)
