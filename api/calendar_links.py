from django.utils import timezone
from rest_framework import serializers
from rest_framework.response import Response
from rest_framework.views import APIView

from api.body import read_body
from api.cooperative import person_of
from api.roles import MEMBERS
from api.stored import one_of
from coop.selectors.calendar_links import calendar_links_of
from coop.services.calendar_links import make_calendar_link, revoke_calendar_link


class NothingIn(serializers.Serializer):
    example = {}


class CalendarLinkOut(serializers.Serializer):
    id = serializers.UUIDField(source="uuid")
    created_at = serializers.DateTimeField()
    revoked_at = serializers.DateTimeField(allow_null=True)

    example = {
        "id": "7d9f1c1e-3f0a-4f0e-9c51-2f5b6a0d4c11",
        "created_at": "2026-03-02T06:00:00Z",
        "revoked_at": None,
    }


class NewCalendarLinkOut(CalendarLinkOut):
    address = serializers.CharField(help_text="told this once; who knows it sees the departures")

    example = {**CalendarLinkOut.example, "address": "https://example.org/calendar/0Yw…Qk.ics"}


class CalendarLinks(APIView):
    """A secret address for the calendar of whoever asks: her departures and giving-up hours."""

    may = {"POST": MEMBERS}
    body = {"POST": NothingIn}
    output = NewCalendarLinkOut
    status = {"POST": 201}

    def post(self, request):
        read_body(NothingIn, request)
        link, secret = make_calendar_link(by=person_of(request).member, now=timezone.now())
        address = request.build_absolute_uri(f"/calendar/{secret}.ics")
        return Response({**CalendarLinkOut(link).data, "address": address}, status=201)


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
