"""Held against RFC 5545: what a VEVENT needs, how lines end and fold; read back by the icalendar package."""

from datetime import timedelta

import pytest
from icalendar import Calendar

from api.callers import LIMITS
from coop.services.calendar_links import make_calendar_link, revoke_calendar_link
from tests.api.packing_scene import NOW, clock, day, shared

__all__ = ["clock", "day"]

CLOSES_AT = "2026-03-02T13:20:00+00:00"


@pytest.fixture
def parcel(day):
    day.shore.route.name = "Lake, shore; to the City – the long way round by the old road and the new bridge"
    day.shore.route.save()
    return shared(day, anna=20.0)


def read(client, secret):
    return client.get(f"/calendar/{secret}.ics")


@pytest.fixture
def link(day):
    return make_calendar_link(by=day.members["anna"], now=NOW)


def test_a_calendar_program_gets_it_without_a_token(client, parcel, link):
    answer = read(client, link[1])
    assert answer.status_code == 200
    assert answer["Content-Type"] == "text/calendar; charset=utf-8"
    assert "private" in answer["Cache-Control"]
    assert read(client, link[1]).content == answer.content


def test_lines_end_in_crlf_and_none_is_longer_than_75_octets(client, parcel, link):
    """RFC 5545, 3.1."""
    content = read(client, link[1]).content
    lines = content.split(b"\r\n")
    assert lines[-1] == b""
    assert b"\n" not in content.replace(b"\r\n", b"")
    assert max(map(len, lines)) <= 75
    assert any(line.startswith(b" ") for line in lines)


def test_it_has_what_the_standard_requires_and_each_event_an_id_and_a_stamp_of_its_own(client, parcel, link):
    """RFC 5545, 3.6 (PRODID, VERSION) and 3.6.1 (UID, DTSTAMP, DTSTART)."""
    calendar = Calendar.from_ical(read(client, link[1]).content)
    assert calendar["version"] == "2.0"
    assert calendar["prodid"]
    found = calendar.walk("VEVENT")
    assert len(found) == 2
    assert all(event["dtstamp"].dt.utcoffset() == timedelta(0) for event in found)
    assert {event["uid"] for event in found} == {f"{parcel['id']}-departure", f"{parcel['id']}-leaves-by"}


def test_the_departure_lasts_from_closing_to_leaving(client, parcel, link):
    event = Calendar.from_ical(read(client, link[1]).content).walk("VEVENT")[0]
    assert event["dtstart"].dt.isoformat() == CLOSES_AT
    assert event["dtend"].dt.isoformat() == "2026-03-02T14:00:00+00:00"
    assert "15:20" in event["summary"]
    assert "16:00" in event["summary"]
    assert "Lake, shore; to the City" in event["summary"]


def test_the_hour_of_giving_up_is_an_event_with_an_alarm_before_it(client, parcel, link):
    event = Calendar.from_ical(read(client, link[1]).content).walk("VEVENT")[1]
    assert event["dtstart"].dt > event["dtstamp"].dt
    (alarm,) = event.walk("VALARM")
    # RFC 5545, 3.6.6: an alarm that displays has these three.
    assert alarm["action"] == "DISPLAY"
    assert alarm["description"]
    assert alarm["trigger"].dt == timedelta(minutes=-30)


def test_no_price_and_no_fellow_stands_in_it(client, day, parcel, link):
    text = read(client, link[1]).content.decode()
    assert "ZMW" not in text
    assert "Bwalya" not in text


def test_a_fellow_without_fish_in_it_sees_an_empty_calendar(client, day, parcel):
    link = make_calendar_link(by=day.members["bwalya"])
    assert not Calendar.from_ical(read(client, link[1]).content).walk("VEVENT")


def test_a_revoked_or_wrong_address_is_nowhere_in_the_one_shape(client, day, link):
    revoke_calendar_link(by=day.members["anna"], link=link[0])
    for secret in (link[1], "x" * 43):
        answer = read(client, secret)
        assert answer.status_code == 404
        assert answer.json()["error"]["code"] == "not_found"


def test_guessing_is_stopped_and_a_calendar_that_asks_often_is_not(client, day, link):
    most, _ = LIMITS["calendar-links"]
    assert {read(client, link[1]).status_code for _ in range(most + 5)} == {200}
    assert {read(client, f"wrong-{n}").status_code for n in range(most)} == {404}
    stopped = read(client, "wrong")
    assert stopped.status_code == 429
    assert int(stopped["Retry-After"]) > 0


@pytest.mark.parametrize(
    ("language", "words"), [("fr", "Départs de"), ("mg", "Fiaingan’ny baoritra"), ("sw", "Safari za")]
)
def test_it_speaks_the_language_of_the_cooperative(client, day, parcel, link, language, words):
    cooperative = day.shore.cooperative
    cooperative.language = language
    cooperative.save()
    assert words in read(client, link[1]).content.decode().replace("\r\n ", "")
