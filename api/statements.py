"""What each member owes the cooperative, or is owed, and every line that made it so."""

from django_filters import FilterSet
from rest_framework import serializers
from rest_framework.response import Response
from rest_framework.views import APIView

from api.cooperative import person_of
from api.enrolment_codes import MemberName
from api.entries import EntryOut
from api.filtering import Text, Truth
from api.lots import name_of
from api.pagination import PageQuestion, paged, read_page
from api.roles import MEMBERS, PACKERS
from api.stored import Rows, one_of
from coop.selectors.members import members_of
from coop.selectors.statements import balances_of, statement_of


class BalanceOut(serializers.Serializer):
    member = MemberName()
    balance_minor = serializers.IntegerField(help_text="positive: the member owes it")
    owes = serializers.BooleanField()
    is_owed = serializers.BooleanField()

    example = {"member": MemberName.example, "balance_minor": 27025, "owes": True, "is_owed": False}

    def to_representation(self, member):
        return balance_item(member, member.balance_minor)


class StatementOut(serializers.Serializer):
    member = MemberName()
    balance_minor = serializers.IntegerField(help_text="of all lines; positive: the member owes it")
    owes = serializers.BooleanField()
    is_owed = serializers.BooleanField()
    count = serializers.IntegerField(help_text="of all lines")
    next = serializers.URLField(allow_null=True)
    previous = serializers.URLField(allow_null=True)
    entries = EntryOut(many=True, help_text="one page of them, the newest first")

    example = {
        **BalanceOut.example,
        "count": 1,
        "next": None,
        "previous": None,
        "entries": [EntryOut.example],
    }


class StatementFilters(FilterSet):
    name = Text()
    left = Truth(field_name="left_on", lookup_expr="isnull", exclude=True)


class Statements(Rows):
    """What all members owe or are owed."""

    may = {"GET": PACKERS}
    select = staticmethod(balances_of)
    filters = StatementFilters
    output = BalanceOut


class Statement(APIView):
    """The account of one member: a member's own, and for whoever packs anybody's."""

    may = {"GET": MEMBERS}
    question = PageQuestion
    output = StatementOut

    def get(self, request, pk):
        page, person = read_page(request), person_of(request)
        members = members_of(person.cooperative)
        seen = members if person.role in PACKERS else members.filter(pk=person.member.pk)
        return Response(statement_shown(statement_of(one_of(seen, pk=pk)), request, page, person))


class OwnStatement(APIView):
    """The account of whoever asks."""

    may = {"GET": MEMBERS}
    question = PageQuestion
    output = StatementOut

    def get(self, request):
        page, person = read_page(request), person_of(request)
        return Response(statement_shown(statement_of(person.member), request, page, person))


def statement_shown(statement, request, page, person):
    """StatementOut of a selectors' Statement."""
    answer = paged(statement.entries, request, **page)
    entries = EntryOut(answer.pop("results"), many=True, context={"person": person}).data
    return {**balance_item(statement.member, statement.balance_minor), **answer, "entries": entries}


def balance_item(member, balance_minor):
    return {
        "member": name_of(member),
        "balance_minor": balance_minor,
        "owes": balance_minor > 0,
        "is_owed": balance_minor < 0,
    }
