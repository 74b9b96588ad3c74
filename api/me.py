"""Who holds this phone, and for which cooperative; and the password by which a manager signs in."""

from rest_framework import serializers
from rest_framework.response import Response
from rest_framework.views import APIView

from api.body import Secret, read_body
from api.cooperative import person_of
from api.question import nothing_asked
from api.roles import MANAGERS, MEMBERS
from coop.services.sign_in import set_password


class HolderOut(serializers.Serializer):
    id = serializers.IntegerField()
    name = serializers.CharField()
    role = serializers.CharField()

    example = {"id": 3, "name": "Anna", "role": "packer"}


class MyCooperativeOut(serializers.Serializer):
    slug = serializers.CharField()
    name = serializers.CharField()
    currency = serializers.CharField()
    currency_decimals = serializers.IntegerField()
    coin_minor = serializers.IntegerField()
    language = serializers.CharField()
    time_zone = serializers.CharField()
    sharing_rule = serializers.CharField()
    claims_rule = serializers.CharField()

    example = {
        "slug": "south-lake",
        "name": "South Lake Fish Traders",
        "currency": "ZMW",
        "currency_decimals": 2,
        "coin_minor": 5,
        "language": "en",
        "time_zone": "Africa/Lusaka",
        "sharing_rule": "capped",
        "claims_rule": "contested",
    }


class PhoneName(serializers.Serializer):
    id = serializers.UUIDField(source="uuid")
    name = serializers.CharField()

    example = {"id": "7d9f1c1e-3f0a-4f0e-9c51-2f5b6a0d4c11", "name": "the one at the landing"}


class MeOut(serializers.Serializer):
    member = HolderOut()
    cooperative = MyCooperativeOut()
    phone = PhoneName()

    example = {
        "member": HolderOut.example,
        "cooperative": MyCooperativeOut.example,
        "phone": PhoneName.example,
    }


class PasswordIn(serializers.Serializer):
    name = serializers.CharField(
        min_length=3, max_length=150, help_text="3 to 150 letters, digits, @ . + - _"
    )
    password = Secret(max_length=128, help_text="8 letters or more, and no word that many use")

    example = {"name": "anna", "password": "eleven hard fish"}


class Me(APIView):
    """Who holds this phone."""

    may = {"GET": MEMBERS}
    output = MeOut

    def get(self, request):
        nothing_asked(request)
        return Response(MeOut(person_of(request)).data)


class Password(APIView):
    """The name and password of a manager. On her other phones she is signed out by it."""

    may = {"POST": MANAGERS}
    body = {"POST": PasswordIn}
    status = {"POST": 204}

    def post(self, request):
        person = person_of(request)
        set_password(by=person.member, phone=person.phone, **read_body(PasswordIn, request))
        return Response(status=204)
