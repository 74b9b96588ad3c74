from datetime import UTC, datetime, timedelta

import pytest

from coop.errors import Invalid, NotFound
from coop.services.demonstration import look_as
from coop.services.enrolments import enrol_phone
from tests.factories.cooperatives import DemoCooperativeFactory
from tests.factories.members import MemberFactory, StrangerFactory

pytestmark = pytest.mark.django_db

NOW = datetime(2026, 3, 2, 6, tzinfo=UTC)


def enrolled(words):
    return enrol_phone(code=words, phone_name="A visitor's", phone=None, at=NOW)


@pytest.mark.parametrize("role", ["member", "packer", "manager"])
def test_anybody_looks_as_anybody_of_the_demonstration_for_a_moment(role):
    anna = MemberFactory(cooperative=DemoCooperativeFactory(), role=role)
    code, words = look_as(member=anna.pk, at=NOW)
    assert code.expires_at == NOW + timedelta(minutes=10)
    assert enrolled(words).member == anna


def test_two_visitors_look_as_the_same_person():
    anna = MemberFactory(cooperative=DemoCooperativeFactory())
    words = [look_as(member=anna.pk, at=NOW)[1] for _ in range(2)]
    assert [enrolled(each).member for each in words] == [anna, anna]


def test_nobody_looks_as_a_member_of_a_real_cooperative_or_as_one_who_left():
    demo = DemoCooperativeFactory()
    for other in (StrangerFactory(), MemberFactory(cooperative=demo, left_on=NOW.date())):
        with pytest.raises(Invalid):
            look_as(member=other.pk, at=NOW)


def test_without_a_demonstration_nobody_looks_as_anybody():
    with pytest.raises(NotFound):
        look_as(member=StrangerFactory().pk, at=NOW)
