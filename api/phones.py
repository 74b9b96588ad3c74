"""Phones that were enrolled, who holds them, and putting one out."""

from django.utils import timezone
from django_filters import FilterSet
from rest_framework import serializers
from rest_framework.response import Response
from rest_framework.views import APIView

from api.body import read_body
from api.cooperative import person_of
from api.filtering import Text, Truth
from api.me import HolderOut, PhoneName
from api.roles import MANAGERS, MEMBERS
from api.sign_in import NothingIn
from api.stored import Row, Rows, one_of
from coop.selectors.phones import phones_of
from coop.services.phones import revoke_phone


class TokenOut(serializers.Serializer):
    member = HolderOut(source="user.member")
    expires_at = serializers.DateTimeField(source="expiry")

    example = {"member": HolderOut.example, "expires_at": "2026-08-29T06:00:00Z"}


class PhoneOut(PhoneName):
    enrolled_at = serializers.DateTimeField()
    revoked_at = serializers.DateTimeField(allow_null=True)
    holders = TokenOut(many=True, source="tokens.all")

    example = {
        **PhoneName.example,
        "enrolled_at": "2026-03-02T06:00:00Z",
        "revoked_at": None,
        "holders": [TokenOut.example],
    }


class PhoneFilters(FilterSet):
    name = Text()
    revoked = Truth(field_name="revoked_at", lookup_expr="isnull", exclude=True)


class Phones(Rows):
    """Phones with those who hold them."""

    may = {"GET": MANAGERS}
    select = staticmethod(phones_of)
    filters = PhoneFilters
    output = PhoneOut


class Phone(Row):
    """One phone."""

    may = {"GET": MANAGERS}
    select = staticmethod(phones_of)
    output = PhoneOut


class Revocation(APIView):
    """Puts a phone out at once, for all who hold it: a manager any, a member the one that she holds."""

    may = {"POST": MEMBERS}
    body = {"POST": NothingIn}
    output = PhoneOut

    def post(self, request, uuid):
        read_body(NothingIn, request)
        person = person_of(request)
        phone = one_of(phones_of(person.cooperative), uuid=uuid)
        revoke_phone(by=person.member, phone=phone, at=timezone.now())
        return Response(PhoneOut(one_of(phones_of(person.cooperative), uuid=uuid)).data)
