from uuid import uuid4

import pytest
from django.core.exceptions import ValidationError

from tests.factories.calendar_links import CalendarLinkFactory
from tests.factories.members import StrangerFactory
from tests.models.refusals import change, refused, twin

pytestmark = pytest.mark.django_db


def test_a_link_is_for_a_member_of_its_cooperative():
    link, stranger = CalendarLinkFactory(), StrangerFactory()
    with refused("calendarlink_member_of_its_cooperative"):
        change(link, member=stranger)
    with refused("calendarlink_member_of_its_cooperative"):
        twin(link, uuid=uuid4(), secret_digest="f" * 64, member=stranger)
    link.member = stranger
    with pytest.raises(ValidationError, match="another cooperative"):
        link.clean()


def test_two_links_have_two_secrets():
    link = CalendarLinkFactory()
    with refused("secret_digest"):
        twin(link, uuid=uuid4())


def test_its_name_tells_nothing_of_its_secret():
    link = CalendarLinkFactory(member__name="Anna")
    assert str(link) == "calendar of Anna"
