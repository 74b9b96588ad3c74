from django.utils import timezone
from django_filters import FilterSet
from rest_framework import serializers
from rest_framework.response import Response

from api.body import read_body
from api.cooperative import MANAGER, MEMBER, PACKER, person_of
from api.editions import Edited
from api.filtering import OneOf, Text, Truth
from api.question_fields import Day
from api.roles import MANAGERS, MEMBERS, PACKERS
from api.stored import Row, Rows, one_of
from coop.selectors.members import members_of
from coop.services.members import add_member, change_member

ROLES = (MEMBER, PACKER, MANAGER)


class MemberOut(Edited):
    id = serializers.IntegerField()
    name = serializers.CharField()
    phone = serializers.CharField(
        allow_null=True, help_text="to packers and managers, and to herself; to others null"
    )
    role = serializers.CharField()
    joined_on = serializers.DateField()
    left_on = serializers.DateField(allow_null=True)

    example = {
        "id": 3,
        "name": "Anna",
        "phone": "097 1",
        "role": "packer",
        "joined_on": "2025-03-01",
        "left_on": None,
    }

    def to_representation(self, member):
        person, shown = self.context["person"], super().to_representation(member)
        sees_it = person.role in PACKERS or person.member == member
        return shown if sees_it else {**shown, "phone": None}


class MemberIn(serializers.Serializer):
    name = serializers.CharField(max_length=120)
    phone = serializers.CharField(max_length=32, allow_blank=True, required=False)
    role = serializers.ChoiceField(choices=ROLES, required=False)

    example = {"name": "Anna", "phone": "097 1", "role": "member"}


class MemberChangeIn(MemberIn):
    left_on = Day(
        allow_null=True, required=False, help_text="a date such as 2026-03-02, or null: she is back"
    )

    example = {**MemberIn.example, "left_on": None}


class MemberFilters(FilterSet):
    name = Text()
    role = OneOf(*ROLES)
    left = Truth(field_name="left_on", lookup_expr="isnull", exclude=True)


class Members(Rows):
    """Who trades in this cooperative."""

    may = {"GET": MEMBERS, "POST": MANAGERS}
    select = staticmethod(members_of)
    filters = MemberFilters
    body = {"POST": MemberIn}
    output = MemberOut
    status = {"POST": 201}

    def post(self, request):
        asked, person = read_body(MemberIn, request), person_of(request)
        member = add_member(by=person.member, **asked, at=timezone.now())
        return Response(MemberOut(member, context={"person": person}).data, status=201)


class Member(Row):
    """One member. Who has left is out at once."""

    may = {"GET": MEMBERS, "PATCH": MANAGERS}
    select = staticmethod(members_of)
    body = {"PATCH": MemberChangeIn}
    output = MemberOut

    def patch(self, request, pk):
        asked, person = read_body(MemberChangeIn, request, partial=True), person_of(request)
        member = one_of(members_of(person.cooperative), pk=pk)
        member = change_member(by=person.member, member=member, **asked, at=timezone.now())
        return Response(MemberOut(member, context={"person": person}).data)
