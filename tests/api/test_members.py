import pytest

from api.members import MemberOut
from tests.api.asked import fields_of
from tests.api.people import asking_as, somebody
from tests.api.test_openapi import differences


@pytest.fixture
def anna(ours):
    return somebody(ours, name="Anna", phone="097 1")


def phones(ask):
    return {row["name"]: row["phone"] for row in ask("members/")[1]["results"]}


def test_a_telephone_is_shown_to_herself_and_to_whoever_packs(ours, anna):
    assert phones(asking_as(anna))["Anna"] == "097 1"
    assert phones(asking_as(somebody(ours, name="Fellow", phone="097 2"))) == {
        "Anna": None,
        "Fellow": "097 2",
    }
    for role in ("packer", "manager"):
        assert phones(asking_as(somebody(ours, role)))["Anna"] == "097 1"


def test_one_member_is_shown_with_the_same_care(ours, anna):
    assert asking_as(somebody(ours))(f"members/{anna.pk}/")[1]["phone"] is None
    assert asking_as(anna)(f"members/{anna.pk}/")[1]["phone"] == "097 1"


def test_a_manager_adds_a_member_and_gets_her_as_the_list_has_her(ask_as_manager):
    status, member = ask_as_manager.post("members/", {"name": "  Zita ", "phone": "", "role": "packer"})
    assert status == 201
    assert differences(MemberOut(context={"person": None}), member) == []
    assert member["name"] == "Zita"
    assert member in ask_as_manager("members/")[1]["results"]


def test_a_manager_changes_what_she_names_and_nothing_else(ask_as_manager, anna):
    status, member = ask_as_manager.patch(f"members/{anna.pk}/", {"role": "packer"})
    assert (status, member["role"], member["phone"], member["left_on"]) == (200, "packer", "097 1", None)
    status, member = ask_as_manager.patch(f"members/{anna.pk}/", {"left_on": "2026-03-02"})
    assert (member["left_on"], member["role"]) == ("2026-03-02", "packer")
    assert ask_as_manager.patch(f"members/{anna.pk}/", {"left_on": None})[1]["left_on"] is None


@pytest.mark.parametrize(
    ("body", "field"),
    [
        ({"role": "king"}, "role"),
        ({"name": ""}, "name"),
        ({"name": None}, "name"),
        ({"left_on": "tomorrow"}, "left_on"),
        ({"left_on": "2126-03-02"}, "left_on"),
        ({"left_on": "2001-03-02"}, "left_on"),
        ({"joined_on": "2026-03-02"}, "joined_on"),
        ({"cooperative": "far"}, "cooperative"),
        ({"id": 1}, "id"),
        ({}, "body"),
    ],
)
def test_what_cannot_be_changed_or_is_wrong_is_named(ask_as_manager, anna, body, field):
    status, answer = ask_as_manager.patch(f"members/{anna.pk}/", body)
    assert status == 400, answer
    assert [name for name, _ in fields_of(answer)] in ([field], ["__all__"])


def test_the_last_manager_cannot_step_down(ask_as_manager, manager):
    status, answer = ask_as_manager.patch(f"members/{manager.pk}/", {"role": "member"})
    assert (status, answer["error"]["code"]) == (409, "conflict")


def test_a_member_twice_is_a_conflict(ask_as_manager, anna):
    assert ask_as_manager.post("members/", {"name": "Anna", "phone": "097 1"})[0] == 409
