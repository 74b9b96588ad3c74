from datetime import UTC, date, datetime

import pytest

from coop.errors import Conflict, Invalid, NotAllowed, NotFound
from coop.models import EnrolmentCode, Member
from coop.selectors.phones import token_of
from coop.services.enrolment_codes import issue_code
from coop.services.members import add_member, change_member
from coop.services.sign_in import set_password
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.members import FellowFactory, MemberFactory, OwnerFactory, StrangerFactory
from tests.factories.phones import token_for
from tests.services.at_once import at_once

NOW = datetime(2026, 3, 2, 23, tzinfo=UTC)
"""Already the third of March at the lake."""


def manager_of(slug="shore", **columns):
    return MemberFactory(cooperative=CooperativeFactory(slug=slug), role="manager", **columns)


def changed(by, member, **changes):
    return change_member(by=by, member=member, at=NOW, **changes)


@pytest.mark.django_db
def test_a_manager_adds_a_member_from_today_where_they_are():
    manager = manager_of()
    member = add_member(by=manager, name="Anna", phone="097 1", role="packer", at=NOW)
    assert (member.cooperative, member.role, member.joined_on) == (
        manager.cooperative,
        "packer",
        date(2026, 3, 3),
    )


@pytest.mark.django_db
def test_a_member_is_added_once():
    manager = manager_of()
    add_member(by=manager, name="Anna", at=NOW)
    with pytest.raises(Conflict, match="stands in the list"):
        add_member(by=manager, name="Anna", at=NOW)
    anna = add_member(by=manager, name="Anna", phone="097 1", at=NOW)
    with pytest.raises(Conflict):
        changed(manager, anna, phone="")
    assert Member.objects.filter(name="Anna").count() == 2


@pytest.mark.django_db
@pytest.mark.parametrize("role", ["member", "packer"])
def test_only_a_manager_adds_or_changes_a_member(role):
    owner = OwnerFactory(role=role)
    with pytest.raises(NotAllowed):
        add_member(by=owner, name="Anna", at=NOW)
    with pytest.raises(NotAllowed):
        changed(owner, owner, role="manager")


@pytest.mark.django_db
def test_a_stranger_is_not_there_to_be_changed():
    stranger = StrangerFactory()
    with pytest.raises(NotFound):
        changed(manager_of(), stranger, name="Anna")
    stranger.refresh_from_db()
    assert stranger.name == "Stranger"


@pytest.mark.django_db
def test_who_leaves_is_out_at_once_and_her_open_code_is_void():
    manager, owner = manager_of(), OwnerFactory()
    hers, fellows = token_for(owner), token_for(FellowFactory())
    issue_code(by=manager, member=owner, valid_for=NOW - NOW.replace(day=1), at=NOW)
    changed(manager, owner, left_on=date(2026, 3, 2))
    assert token_of(hers) is None
    assert token_of(fellows)
    assert not EnrolmentCode.objects.exists()


@pytest.mark.django_db
def test_who_comes_back_enrols_anew():
    manager, owner = manager_of(), OwnerFactory()
    hers = token_for(owner)
    changed(manager, owner, left_on=date(2026, 3, 3))
    assert changed(manager, owner, left_on=None).left_on is None
    assert token_of(hers) is None
    owner.refresh_from_db()
    assert token_of(token_for(owner))


@pytest.mark.django_db
@pytest.mark.parametrize("day", [date(2026, 3, 4), date(2024, 1, 19)])
def test_nobody_leaves_tomorrow_or_before_the_day_of_joining(day):
    with pytest.raises(Invalid):
        changed(manager_of(), OwnerFactory(), left_on=day)


@pytest.mark.django_db
@pytest.mark.parametrize("change", [{"role": "packer"}, {"left_on": date(2026, 3, 2)}])
def test_the_last_manager_stays_one(change):
    manager = manager_of()
    manager_of("far")
    manager_of(left_on=date(2026, 1, 1))
    with pytest.raises(Conflict, match="last manager"):
        changed(manager, manager, **change)
    other = manager_of()
    changed(manager, manager, **change)
    with pytest.raises(Conflict, match="last manager"):
        changed(other, other, **change)


def test_of_two_managers_who_step_down_at_once_one_stays(file_database):
    first, second = manager_of(), manager_of()
    answers = at_once(
        lambda: changed(first, first, role="member"), lambda: changed(second, second, role="member")
    )
    assert sorted(type(answer).__name__ for answer in answers) == ["Conflict", "Member"]
    assert Member.objects.filter(role="manager").count() == 1


@pytest.mark.django_db
def test_a_manager_of_once_has_no_password_any_more():
    manager, other = manager_of(), manager_of()
    set_password(by=other, name="joseph", password="eleven hard fish")
    changed(manager, other, role="member")
    other.account.refresh_from_db()
    assert not other.account.has_usable_password()
    changed(manager, other, role="manager")
    other.account.refresh_from_db()
    assert not other.account.has_usable_password()


@pytest.mark.django_db
@pytest.mark.parametrize("change", [{"role": "king"}, {"name": ""}, {"name": "x" * 121}, {"phone": "9" * 33}])
def test_what_the_form_refuses_is_named(change):
    with pytest.raises(Invalid) as refusal:
        changed(manager_of(), OwnerFactory(), **change)
    assert [problem.field for problem in refusal.value.problems] == list(change)
