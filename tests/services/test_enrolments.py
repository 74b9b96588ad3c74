from datetime import UTC, datetime, timedelta
from uuid import uuid4

import pytest

from coop.errors import Invalid
from coop.models import EnrolmentCode, Phone, PhoneToken
from coop.selectors.phones import token_of
from coop.services.enrolment_codes import issue_code
from coop.services.enrolments import Session, enrol_phone
from coop.services.members import change_member
from coop.services.phones import revoke_phone
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.members import MemberFactory
from tests.factories.phones import PhoneFactory
from tests.services.at_once import at_once

NOW = datetime(2126, 3, 2, 6, tzinfo=UTC)
"""Far ahead of any clock that runs this, so that no token has ended."""
HOUR = timedelta(hours=1)


def member_of(slug="shore", role="member"):
    return MemberFactory(cooperative=CooperativeFactory(slug=slug), role=role)


def code_for(member, at=NOW):
    return issue_code(by=None, member=member, valid_for=24 * HOUR, at=at)[1]


def enrolled(code, at=NOW, phone=None, phone_name="New phone"):
    return enrol_phone(code=code, phone_name=phone_name, phone=phone, at=at)


@pytest.mark.django_db
def test_a_code_lets_one_member_in_on_one_phone():
    owner = member_of()
    session = enrolled(code_for(owner))
    token = token_of(session.token)
    assert token.user.member == session.member == owner
    assert (session.phone.name, session.phone.cooperative) == ("New phone", owner.cooperative)
    used = EnrolmentCode.objects.get()
    assert (used.used_at, used.phone) == (NOW, session.phone)


@pytest.mark.django_db
def test_a_token_has_256_bits_and_is_stored_as_a_digest_alone():
    session = enrolled(code_for(member_of()))
    assert len(bytes.fromhex(session.token)) * 8 == 256
    stored = PhoneToken.objects.values().get()
    assert session.token not in [str(value) for value in stored.values()]
    # What is kept to find it by is far too little to complete it.
    assert session.token.startswith(stored["token_key"])
    assert (len(session.token) - len(stored["token_key"])) * 4 > 128


@pytest.mark.django_db
@pytest.mark.parametrize(("role", "days"), [("member", 180), ("packer", 180), ("manager", 30)])
def test_a_token_ends_and_that_of_a_manager_sooner(role, days):
    assert enrolled(code_for(member_of(role=role))).expires_at == NOW + timedelta(days=days)


@pytest.mark.django_db
def test_a_used_code_does_not_work_twice():
    code = code_for(member_of())
    enrolled(code)
    with pytest.raises(Invalid, match="used before"):
        enrolled(code)
    assert Phone.objects.count() == PhoneToken.objects.count() == 1


def test_of_eight_who_use_one_code_at_once_one_is_let_in(file_database):
    code = code_for(member_of())
    answers = at_once(*[lambda: enrolled(code)] * 8)
    assert [type(answer) for answer in answers].count(Session) == 1
    assert [type(answer) for answer in answers].count(Invalid) == 7
    assert Phone.objects.count() == PhoneToken.objects.count() == 1


@pytest.mark.django_db
def test_a_code_counts_until_its_hour_and_no_longer():
    owner = member_of()
    assert enrolled(code_for(owner), at=NOW + 24 * HOUR - timedelta(seconds=1))
    with pytest.raises(Invalid):
        enrolled(code_for(owner), at=NOW + 24 * HOUR)


@pytest.mark.django_db
def test_a_clock_that_was_set_back_turns_no_code_away_and_revives_no_used_one():
    code = code_for(member_of())
    enrolled(code, at=NOW - HOUR)
    with pytest.raises(Invalid):
        enrolled(code, at=NOW - 2 * HOUR)


@pytest.mark.django_db
@pytest.mark.parametrize("code", ["", "7KQ2M-XW94C", "7KQ2M", "é" * 10, "0" * 10, "'; --"])
def test_what_is_no_code_is_refused_in_the_same_words(code):
    used = code_for(member_of())
    enrolled(used)
    with pytest.raises(Invalid) as wrong:
        enrolled(code)
    with pytest.raises(Invalid) as again:
        enrolled(used)
    assert wrong.value.problems == again.value.problems


@pytest.mark.django_db
def test_who_has_left_is_not_let_in_by_a_code_of_before():
    owner, manager = member_of(), member_of(role="manager")
    code = code_for(owner)
    change_member(by=manager, member=owner, at=NOW, left_on=NOW.date())
    with pytest.raises(Invalid):
        enrolled(code)
    change_member(by=manager, member=owner, at=NOW, left_on=None)
    with pytest.raises(Invalid):
        enrolled(code)


@pytest.mark.django_db
def test_somebody_marked_as_gone_past_the_services_is_not_let_in_either():
    owner = member_of()
    code = code_for(owner)
    type(owner).objects.filter(pk=owner.pk).update(left_on=NOW.date())
    with pytest.raises(Invalid):
        enrolled(code)


@pytest.mark.django_db
def test_several_people_hold_one_phone_each_with_a_token_of_her_own():
    owner, fellow = member_of(), member_of()
    first = enrolled(code_for(owner))
    second = enrolled(code_for(fellow), phone=first.phone.uuid, phone_name="another name")
    assert second.phone == first.phone
    assert second.phone.name == "New phone"
    assert {token_of(one.token).user.member for one in (first, second)} == {owner, fellow}


@pytest.mark.django_db
def test_enrolling_again_on_the_same_phone_ends_the_token_of_before():
    owner = member_of()
    first = enrolled(code_for(owner))
    second = enrolled(code_for(owner), phone=first.phone.uuid)
    assert second.phone == first.phone
    assert token_of(first.token) is None
    assert token_of(second.token)


@pytest.mark.django_db
def test_one_member_may_hold_two_phones():
    owner = member_of()
    first, second = enrolled(code_for(owner)), enrolled(code_for(owner))
    assert first.phone != second.phone
    assert token_of(first.token)
    assert token_of(second.token)
    owner.refresh_from_db()
    assert owner.account.auth_token_set.count() == 2


@pytest.mark.django_db
def test_a_phone_that_is_unknown_revoked_or_of_strangers_becomes_a_new_one():
    owner, manager = member_of(), member_of(role="manager")
    strange = PhoneFactory(cooperative=CooperativeFactory(slug="far"))
    revoked = enrolled(code_for(owner)).phone
    revoke_phone(by=manager, phone=revoked, at=NOW)
    for uuid in (uuid4(), strange.uuid, revoked.uuid):
        session = enrolled(code_for(owner), phone=uuid)
        assert session.phone.uuid != uuid
        assert session.phone.cooperative == owner.cooperative
    assert token_of(session.token)


@pytest.mark.django_db
def test_a_phone_without_a_name_is_refused_and_the_code_still_counts():
    code = code_for(member_of())
    with pytest.raises(Invalid):
        enrolled(code, phone_name="")
    assert enrolled(code)


@pytest.mark.django_db
def test_an_account_has_no_password_and_a_name_that_nobody_guesses():
    owner = member_of()
    enrolled(code_for(owner))
    owner.refresh_from_db()
    assert not owner.account.has_usable_password()
    assert len(owner.account.username) > 20
    assert not owner.account.is_staff
    assert not owner.account.is_superuser


@pytest.mark.django_db
def test_tokens_that_have_ended_are_swept_out_at_the_next_enrolment():
    owner = member_of()
    enrolled(code_for(owner, NOW), NOW)
    later = NOW + timedelta(days=181)
    enrolled(code_for(owner, later), later)
    assert PhoneToken.objects.count() == 1
