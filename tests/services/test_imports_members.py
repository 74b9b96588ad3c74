from datetime import date

import pytest

from coop.errors import Invalid
from coop.models import Member
from coop.services.imports import take_in
from coop.services.imports_members import MEMBERS
from tests.factories.members import MemberFactory, OwnerFactory
from tests.services.packing_day import NOW

pytestmark = pytest.mark.django_db
JOINED = date(2024, 1, 20)


@pytest.fixture
def manager():
    owner = OwnerFactory(phone="097 1")
    return MemberFactory(cooperative=owner.cooperative, name="Manager", role="manager")


def line(number, name, phone="", role="member", joined_on=JOINED, left_on=None):
    values = {"name": name, "phone": phone, "role": role, "joined_on": joined_on, "left_on": left_on}
    return (f"line {number}", values)


def taken(manager, *lines, dry_run=False):
    return take_in(by=manager, subject=MEMBERS, lines=list(lines), dry_run=dry_run, now=NOW)


def everybody(manager):
    rows = Member.objects.of(manager.cooperative).order_by("name", "phone")
    return [(row.name, row.phone, row.role, row.joined_on, row.left_on) for row in rows]


def test_what_went_out_comes_in_and_changes_nothing(manager):
    before = everybody(manager)
    lines = [("line", values) for values in MEMBERS.lines(manager.cooperative)]
    assert taken(manager, *lines).counts == {"new": 0, "changed": 0, "same": 2}
    assert everybody(manager) == before


def test_somebody_new_comes_with_the_day_on_which_she_joined(manager):
    found = taken(
        manager, line(2, "Zoe", "097 9", "packer", date(2020, 5, 1)), line(3, "Yao", joined_on=None)
    )
    assert found.counts == {"new": 2, "changed": 0, "same": 0}
    assert everybody(manager)[2:] == [
        ("Yao", "", "member", date(2026, 3, 1), None),
        ("Zoe", "097 9", "packer", date(2020, 5, 1), None),
    ]


def test_whose_name_is_there_once_gets_a_new_number_and_a_namesake_is_somebody_else(manager):
    (difference,) = taken(manager, line(2, "Owner", "097 2")).differences
    assert [(one.field, one.before, one.after) for one in difference.changes] == [("phone", "097 1", "097 2")]
    found = taken(manager, line(2, "Owner", "097 2"), line(3, "Owner", "097 3"))
    assert found.counts == {"new": 1, "changed": 0, "same": 1}


def test_who_left_is_written_down(manager):
    taken(manager, line(2, "Owner", "097 1", left_on=date(2026, 2, 1)))
    assert everybody(manager)[1][4] == date(2026, 2, 1)


def test_the_last_manager_stays_and_nobody_else_comes_in_beside(manager):
    before = everybody(manager)
    with pytest.raises(Invalid) as refusal:
        taken(manager, line(2, "Zoe"), line(3, "Manager", role="member"))
    assert [one.field for one in refusal.value.problems] == ["line 3, role"]
    assert everybody(manager) == before


def test_somebody_twice_is_told(manager):
    with pytest.raises(Invalid) as refusal:
        taken(manager, line(2, "Zoe"), line(3, "Zoe"))
    assert refusal.value.problems[0].field == "line 3, name"


def test_a_dry_run_adds_nobody(manager):
    before = everybody(manager)
    assert taken(manager, line(2, "Zoe"), dry_run=True).counts["new"] == 1
    assert everybody(manager) == before
