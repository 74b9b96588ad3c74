"""Codes by which a manager enrols phones. What a code says is told once, when it is made."""

from datetime import timedelta

from django.utils import timezone
from django_filters import FilterSet
from rest_framework import serializers
from rest_framework.response import Response

from api.body import read_body
from api.cooperative import person_of
from api.filtering import Whole
from api.qr import qr_of
from api.question_fields import LARGEST, chosen
from api.roles import MANAGERS
from api.stored import Row, Rows
from coop.selectors.enrolment_codes import open_codes_of
from coop.selectors.members import members_of
from coop.services.enrolment_codes import issue_code


class MemberName(serializers.Serializer):
    id = serializers.IntegerField()
    name = serializers.CharField()

    example = {"id": 3, "name": "Anna"}


class EnrolmentCodeOut(serializers.Serializer):
    id = serializers.IntegerField()
    member = MemberName()
    issued_by = MemberName(allow_null=True)
    issued_at = serializers.DateTimeField()
    expires_at = serializers.DateTimeField()

    example = {
        "id": 9,
        "member": MemberName.example,
        "issued_by": {"id": 1, "name": "Esther"},
        "issued_at": "2026-03-02T06:00:00Z",
        "expires_at": "2026-03-03T06:00:00Z",
    }


class QrOut(serializers.Serializer):
    size = serializers.IntegerField(help_text="side in modules, with four of white on each")
    path = serializers.CharField(help_text="SVG path data of what is dark")

    example = {"size": 37, "path": "M4 4h7v1h-7z"}


class NewCodeOut(EnrolmentCodeOut):
    code = serializers.CharField()
    link = serializers.CharField(help_text="an address of this server's screens")
    qr = QrOut(help_text="the whole address of that link")

    example = {
        **EnrolmentCodeOut.example,
        "code": "7KQ2M-XW94C",
        "link": "/enrol#7KQ2M-XW94C",
        "qr": QrOut.example,
    }


class EnrolmentCodeIn(serializers.Serializer):
    member = serializers.IntegerField(min_value=1, max_value=LARGEST)
    valid_hours = serializers.IntegerField(min_value=1, max_value=168, default=24)

    example = {"member": 3, "valid_hours": 24}


class EnrolmentCodeFilters(FilterSet):
    member = Whole(field_name="member__id")


def open_now(cooperative):
    return open_codes_of(cooperative, timezone.now())


class EnrolmentCodes(Rows):
    """Codes that still count. A new one voids those of the same member that are open."""

    may = {"GET": MANAGERS, "POST": MANAGERS}
    select = staticmethod(open_now)
    filters = EnrolmentCodeFilters
    body = {"POST": EnrolmentCodeIn}
    output = {"GET": EnrolmentCodeOut, "POST": NewCodeOut}
    status = {"POST": 201}

    def post(self, request):
        asked, person = read_body(EnrolmentCodeIn, request), person_of(request)
        member = chosen(members_of(person.cooperative), "member", asked["member"], key="pk")
        valid_for = timedelta(hours=asked["valid_hours"])
        code, words = issue_code(by=person.member, member=member, valid_for=valid_for, at=timezone.now())
        return Response(new_code_of(code, words, request), status=201)


class EnrolmentCode(Row):
    """One code that still counts."""

    may = {"GET": MANAGERS}
    select = staticmethod(open_now)
    output = EnrolmentCodeOut


def new_code_of(code, words, request):
    # The fragment of an address is never sent to a server, so no log has it.
    link = f"/enrol#{words}"
    whole = request.build_absolute_uri("/") + link.removeprefix("/")
    return {**EnrolmentCodeOut(code).data, "code": words, "link": link, "qr": qr_of(whole)}
