from datetime import UTC, datetime, timedelta

import pytest

from coop.errors import Conflict, NotAllowed, NotFound
from coop.models import CalendarLink
from coop.selectors.calendar_links import calendar_link_behind
from coop.services import calendar_links
from coop.services.calendar_links import make_calendar_link, revoke_calendar_link
from coop.services.secret_links import BITS, digest_of
from tests.factories.members import FellowFactory, MemberFactory, OwnerFactory, StrangerFactory

pytestmark = pytest.mark.django_db
NOW = datetime(2026, 3, 1, 12, tzinfo=UTC)
LATER = NOW + timedelta(hours=1)


@pytest.fixture
def owner():
    return OwnerFactory()


@pytest.fixture
def manager(owner):
    return MemberFactory(cooperative=owner.cooperative, role="manager")


def test_a_secret_is_told_once_has_128_bits_at_least_and_only_its_digest_is_stored(owner):
    """OWASP ASVS 5.0, 7.2.3."""
    link, secret = make_calendar_link(by=owner, now=NOW)
    assert BITS >= 128
    assert (link.member, link.created_at, link.revoked_at) == (owner, NOW, None)
    assert secret not in str(list(CalendarLink.objects.values_list()))
    assert calendar_link_behind(digest_of(secret)) == link


def test_two_links_have_two_secrets(owner):
    assert make_calendar_link(by=owner)[1] != make_calendar_link(by=owner)[1]


def test_a_revoked_link_opens_nothing_and_stays_revoked_since_the_first_time(owner):
    link, secret = make_calendar_link(by=owner, now=NOW)
    assert revoke_calendar_link(by=owner, link=link, now=LATER).revoked_at == LATER
    assert calendar_link_behind(digest_of(secret)) is None
    assert revoke_calendar_link(by=owner, link=link, now=LATER + timedelta(1)).revoked_at == LATER


def test_a_link_of_somebody_who_left_opens_nothing(owner):
    _, secret = make_calendar_link(by=owner, now=NOW)
    owner.left_on = "2026-03-01"
    owner.save()
    assert calendar_link_behind(digest_of(secret)) is None


def test_a_manager_revokes_anybodys_a_fellow_does_not_and_a_stranger_finds_none(owner, manager):
    link, _ = make_calendar_link(by=owner)
    with pytest.raises(NotAllowed):
        revoke_calendar_link(by=FellowFactory(cooperative=owner.cooperative), link=link)
    with pytest.raises(NotFound):
        revoke_calendar_link(by=StrangerFactory(), link=link)
    assert revoke_calendar_link(by=manager, link=link).revoked_at


def test_so_many_are_open_at_once_and_one_that_was_revoked_makes_room(owner, monkeypatch):
    monkeypatch.setattr(calendar_links, "MOST_LINKS", 2)
    first, _ = make_calendar_link(by=owner)
    make_calendar_link(by=owner)
    with pytest.raises(Conflict):
        make_calendar_link(by=owner)
    revoke_calendar_link(by=owner, link=first)
    make_calendar_link(by=owner)
