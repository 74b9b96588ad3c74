"""Departures and giving-up hours as an iCalendar subscription (RFC 5545), under a secret address."""

from datetime import timedelta
from zoneinfo import ZoneInfo

from django.http import HttpResponse
from django.utils import timezone
from icalendar import Alarm, Calendar, Event
from rest_framework.views import APIView

from api.calendar_words import words_of
from api.callers import limit
from api.negotiation import OneForm
from api.question import nothing_asked
from api.roles import ANYBODY
from api.rounding import minute_down
from coop.errors import NotFound
from coop.selectors.calendar_links import calendar_link_behind, coming_departures
from coop.services.secret_links import digest_of

MAKER = "-//Carton Hour//Departures//EN"
ASKED_AGAIN = timedelta(hours=1)
ALARM_BEFORE = timedelta(minutes=30)


class CalendarFeed(APIView):
    """What a calendar program asks for, again and again: no token, the address is the secret."""

    may = {"GET": ANYBODY}
    authentication_classes = ()
    content_negotiation_class = OneForm
    schema = None

    def get(self, request, secret):
        nothing_asked(request)
        with limit("calendar-links").counting_failures(request, NotFound):
            link = calendar_link_behind(digest_of(secret))
            if link is None:
                raise NotFound("There is no such calendar, or it was revoked.")
        answer = HttpResponse(
            calendar_of(link.member, timezone.now()), content_type="text/calendar; charset=utf-8"
        )
        answer["Cache-Control"] = "private, no-cache"
        answer["Referrer-Policy"] = "no-referrer"
        answer["X-Robots-Tag"] = "noindex"
        return answer


def calendar_of(member, now):
    """The bytes of the calendar of one member."""
    cooperative = member.cooperative
    words, calendar = words_of(cooperative.language), Calendar()
    calendar.add("prodid", MAKER)
    calendar.add("version", "2.0")
    calendar.add("x-wr-calname", words["calendar"].format(cooperative=cooperative.name))
    calendar.add("refresh-interval", ASKED_AGAIN, parameters={"VALUE": "DURATION"})
    stamp = now.replace(minute=0, second=0, microsecond=0)
    for coming in coming_departures(member, now):
        calendar.add_component(departure_event(coming.parcel, words, stamp))
        if coming.leaves_by:
            calendar.add_component(giving_up_event(coming, words, stamp))
    return calendar.to_ical()


def event(uid, stamp, **properties):
    """A VEVENT; an instant is written in UTC, so that no calendar needs to know our time zone."""
    found = Event()
    found.add("uid", uid)
    found.add("dtstamp", stamp)
    for name, value in properties.items():
        found.add(name, value)
    return found


def departure_event(parcel, words, stamp):
    zone = ZoneInfo(parcel.cooperative.time_zone)
    closes, leaves = (f"{at.astimezone(zone):%H:%M}" for at in (parcel.closes_at, parcel.departs_at))
    return event(
        f"{parcel.uuid}-departure",
        stamp,
        dtstart=parcel.closes_at,
        dtend=parcel.departs_at,
        summary=words["departure"].format(closes=closes, leaves=leaves, route=parcel.route.name),
        description=told(parcel, words),
        location=parcel.route.origin.name,
    )


def giving_up_event(coming, words, stamp):
    """Its hour is rounded down to the minute, the safe side, and an alarm rings half an hour before."""
    parcel, at = coming.parcel, minute_down(coming.leaves_by)
    summary = words["leaves_by"].format(route=parcel.route.name, carrier=parcel.timetable.carrier.name)
    found = event(
        f"{parcel.uuid}-leaves-by",
        stamp,
        dtstart=at,
        dtend=at,
        summary=summary,
        description=f"{words['not_left']} {told(parcel, words)}",
        location=parcel.route.origin.name,
        transp="TRANSPARENT",
    )
    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", summary)
    alarm.add("trigger", -ALARM_BEFORE)
    found.add_component(alarm)
    return found


def told(parcel, words):
    return words["told"].format(
        carrier=parcel.timetable.carrier.name,
        cartons=len(parcel.cartons.all()),
        mass=f"{parcel.mass_kg:g}",
        buyer=parcel.buyer.name,
    )
