"""Managers sign in with a password; every holder can sign out of the phone that she holds."""

from django.utils import timezone
from rest_framework import serializers
from rest_framework.response import Response
from rest_framework.views import APIView

from api.body import Secret, read_body
from api.callers import limit
from api.cooperative import person_of
from api.enrolments import DeviceIn, SessionOut, session_of
from api.roles import ANYBODY, MEMBERS
from coop.errors import Invalid
from coop.services.sign_in import sign_in, sign_out


class SignInIn(DeviceIn):
    name = serializers.CharField(max_length=150)
    password = Secret(max_length=128)

    example = {"name": "anna", "password": "eleven hard fish", **DeviceIn.example}


class NothingIn(serializers.Serializer):
    example = {}


class SignIn(APIView):
    """A token for a manager. After five wrong passwords for one name from one place it waits."""

    may = {"POST": ANYBODY}
    authentication_classes = ()
    body = {"POST": SignInIn}
    output = SessionOut
    status = {"POST": 201}

    def post(self, request):
        asked = read_body(SignInIn, request)
        with limit("sign-in").counting_failures(request, Invalid):
            session = sign_in(caller=request._request, **asked, at=timezone.now())
        return Response(session_of(session), status=201)


class SignOut(APIView):
    """Ends the token that this request carries; others who hold the phone stay."""

    may = {"POST": MEMBERS}
    body = {"POST": NothingIn}
    status = {"POST": 204}

    def post(self, request):
        read_body(NothingIn, request)
        person = person_of(request)
        sign_out(by=person.member, phone=person.phone)
        return Response(status=204)
