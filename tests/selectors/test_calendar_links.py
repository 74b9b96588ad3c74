from datetime import timedelta

import pytest

from coop.selectors.calendar_links import calendar_links_for, coming_departures, shows_all
from tests.factories.calendar_links import CalendarLinkFactory
from tests.factories.parcels import PartFactory, closed, departed, parcel_of
from tests.services.packing_day import NOW, lot, packing_day

pytestmark = pytest.mark.django_db


@pytest.fixture
def day():
    return packing_day()


def filled(day, member, parcel=None):
    parcel = parcel or day.parcel
    fish = lot(day, member)
    PartFactory(carton=parcel.cartons.get(), lot=fish, mass_kg=fish.mass_kg)
    return parcel


def shown(member, now=NOW):
    return [coming.parcel for coming in coming_departures(member, now)]


def test_a_member_sees_parcels_with_her_fish_and_whoever_packs_sees_all(day):
    filled(day, day.owner)
    other = parcel_of(day, departs_at=day.parcel.departs_at + timedelta(days=1))
    assert shown(day.owner) == [day.parcel]
    assert shown(day.fellow) == []
    assert shown(day.packer) == shown(day.manager) == [day.parcel, other]
    assert shown(day.stranger) == []


def test_what_left_is_shown_no_more_and_what_is_closed_is(day):
    parcel = closed(filled(day, day.owner))
    assert shown(day.owner) == [parcel]
    departed(parcel)
    assert shown(day.owner) == []


def test_what_nobody_sent_is_forgotten_after_a_day(day):
    filled(day, day.owner)
    assert shown(day.owner, day.parcel.departs_at + timedelta(hours=23))
    assert not shown(day.owner, day.parcel.departs_at + timedelta(hours=25))


def test_the_last_hour_is_that_of_the_closed_carton_and_an_empty_parcel_has_none(day):
    assert coming_departures(day.packer, NOW)[0].leaves_by is None
    latest = day.parcel.departs_at + timedelta(hours=2)
    closed(filled(day, day.owner), latest_safe_departure_at=latest)
    assert coming_departures(day.packer, NOW)[0].leaves_by == latest


def test_the_last_hour_of_an_open_carton_is_judged(day):
    filled(day, day.owner)
    assert coming_departures(day.owner, NOW)[0].leaves_by > day.parcel.departs_at


def test_whoever_may_revoke_a_link_finds_it_until_it_is_revoked(day):
    link = CalendarLinkFactory(cooperative=day.cooperative, member=day.owner)
    CalendarLinkFactory(cooperative=day.stranger.cooperative, member=day.stranger)
    CalendarLinkFactory(cooperative=day.cooperative, member=day.owner, revoked_at=NOW)
    seen = [list(calendar_links_for(who)) for who in (day.owner, day.fellow, day.packer, day.manager)]
    assert seen == [[link], [], [], [link]]


def test_a_calendar_shows_all_to_whoever_packs(day):
    shown = [shows_all(who) for who in (day.owner, day.packer, day.manager)]
    assert shown == [False, True, True]
