from django_filters import FilterSet
from rest_framework import serializers

from api.filtering import Text
from api.stored import Row, Rows
from coop.selectors.members import members_of


class MemberOut(serializers.Serializer):
    id = serializers.IntegerField()
    name = serializers.CharField()
    phone = serializers.CharField()
    joined_on = serializers.DateField()

    example = {"id": 3, "name": "Anna", "phone": "", "joined_on": "2025-03-01"}


class MemberFilters(FilterSet):
    name = Text()


class Members(Rows):
    """Who trades in this cooperative."""

    select = staticmethod(members_of)
    filters = MemberFilters
    output = MemberOut


class Member(Row):
    """One member."""

    select = staticmethod(members_of)
    output = MemberOut
