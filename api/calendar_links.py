"""Secret addresses of calendars: made, listed without the secret, revoked."""

from django.utils import timezone
from django_filters import FilterSet
from rest_framework import serializers
from rest_framework.response import Response
from rest_framework.views import APIView

from api.body import read_body
from api.cooperative import person_of
from api.enrolment_codes import MemberName
from api.filtering import Whole
from api.roles import MEMBERS
from api.stored import Row, Rows, one_of
from coop.selectors.calendar_links import calendar_links_for, calendar_links_of, shows_all
from coop.services.calendar_links import make_calendar_link, revoke_calendar_link


class NothingIn(serializers.Serializer):
    example = {}


class CalendarLinkOut(serializers.Serializer):
    id = serializers.UUIDField(source="uuid")
    member = MemberName()
    shows = serializers.ChoiceField(
        choices=["own", "all"], help_text="departures with her fish only, or all of them"
    )
    created_at = serializers.DateTimeField()
    revoked_at = serializers.DateTimeField(allow_null=True)

    example = {
        "id": "7d9f1c1e-3f0a-4f0e-9c51-2f5b6a0d4c11",
        "member": MemberName.example,
        "shows": "own",
        "created_at": "2026-03-02T06:00:00Z",
        "revoked_at": None,
    }

    def to_representation(self, link):
        link.shows = "all" if shows_all(link.member) else "own"
        return super().to_representation(link)


class NewCalendarLinkOut(CalendarLinkOut):
    address = serializers.CharField(help_text="told this once; who knows it sees the departures")

    example = {**CalendarLinkOut.example, "address": "https://example.org/calendar/0Yw…Qk.ics"}


class CalendarLinkFilters(FilterSet):
    member = Whole(field_name="member__id")


def open_links_for(person):
    """Those that she may revoke and that nobody has revoked."""
    return calendar_links_for(person.member)


class CalendarLinks(Rows):
    """Addresses that still count: her own, and for a manager all. A secret is told once, when it is made."""

    may = {"GET": MEMBERS, "POST": MEMBERS}
    select_for = staticmethod(open_links_for)
    filters = CalendarLinkFilters
    body = {"POST": NothingIn}
    output = {"GET": CalendarLinkOut, "POST": NewCalendarLinkOut}
    status = {"POST": 201}

    def post(self, request):
        read_body(NothingIn, request)
        link, secret = make_calendar_link(by=person_of(request).member, now=timezone.now())
        address = request.build_absolute_uri(f"/calendar/{secret}.ics")
        return Response({**CalendarLinkOut(link).data, "address": address}, status=201)


class CalendarLink(Row):
    """One address that still counts, without its secret."""

    may = {"GET": MEMBERS}
    select_for = staticmethod(open_links_for)
    output = CalendarLinkOut


class CalendarLinkRevocation(APIView):
    """Ends an address at once. Who made it may, and a manager."""

    may = {"POST": MEMBERS}
    body = {"POST": NothingIn}
    output = CalendarLinkOut

    def post(self, request, uuid):
        read_body(NothingIn, request)
        person = person_of(request)
        link = one_of(calendar_links_of(person.cooperative), uuid=uuid)
        return Response(CalendarLinkOut(revoke_calendar_link(by=person.member, link=link)).data)
