"""Statements: a member her own, whoever packs everybody's; lines come in pages and the balance is of all."""

import pytest

from api.statements import BalanceOut, StatementOut
from tests.api.packing_scene import PEOPLE, clock, day, made
from tests.api.test_openapi import differences
from tests.factories.entries import EntryFactory
from tests.factories.members import MemberFactory
from tests.selectors.queries import questions

__all__ = ["clock", "day"]


@pytest.fixture
def seven(day):
    """Seven payments of Anna's, one kwacha more each."""
    cooperative, anna = day.shore.cooperative, day.members["anna"]
    return [EntryFactory(cooperative=cooperative, member=anna, amount_minor=-100 * n) for n in range(1, 8)]


def test_the_balance_is_of_all_lines_whatever_page_is_shown(day, seven):
    pages = [made(day.anna("statement/", page=page, page_size=3), 200) for page in (1, 2, 3)]
    assert all(differences(StatementOut(), page) == [] for page in pages)
    assert {page["balance_minor"] for page in pages} == {-2800}
    assert {page["count"] for page in pages} == {7}
    shown = [one["id"] for page in pages for one in page["entries"]]
    assert shown == [str(entry.uuid) for entry in reversed(seven)]
    assert pages[2]["next"] is None
    assert "page=2" in pages[0]["next"]
    assert day.anna("statement/", page=4)[0] == 400


def test_hers_is_the_same_under_either_address_and_to_who_packs(day, seven):
    pk = day.members["anna"].pk
    own = made(day.anna("statement/"), 200)
    assert made(day.anna(f"statements/{pk}/"), 200) == own
    assert made(day.packer(f"statements/{pk}/"), 200) == own
    assert day.bwalya(f"statements/{pk}/")[0] == 404


def test_all_members_are_listed_by_name_with_what_they_owe(day, seven):
    EntryFactory(
        cooperative=day.shore.cooperative, member=day.members["bwalya"], kind="payout", amount_minor=5
    )
    rows = made(day.packer("statements/"), 200)["results"]
    assert [row["member"]["name"] for row in rows] == sorted(name.title() for name in PEOPLE)
    assert all(differences(BalanceOut(), row) == [] for row in rows)
    by_name = {row["member"]["name"]: row for row in rows}
    assert [by_name["Anna"][name] for name in ("balance_minor", "owes", "is_owed")] == [-2800, False, True]
    assert [by_name["Bwalya"][name] for name in ("balance_minor", "owes", "is_owed")] == [5, True, False]
    assert [by_name["Chanda"][name] for name in ("balance_minor", "owes", "is_owed")] == [0, False, False]
    assert [row["member"]["name"] for row in made(day.packer("statements/", name="wal"), 200)["results"]] == [
        "Bwalya"
    ]
    assert made(day.packer("statements/", left="true"), 200)["count"] == 0


def test_members_of_strangers_are_not_in_it(day, theirs):
    stranger = EntryFactory(cooperative=theirs).member
    assert day.packer(f"statements/{stranger.pk}/")[0] == 404
    assert stranger.name not in str(day.packer("statements/"))


def test_many_members_and_many_lines_take_as_many_questions_as_one(day, seven):
    def lists():
        made(day.packer("statements/", page_size=100), 200)

    def one():
        made(day.anna("statement/", page_size=100), 200)

    lists()
    before = questions(lists), questions(one)
    for _ in range(30):
        EntryFactory(cooperative=day.shore.cooperative)
        MemberFactory(cooperative=day.shore.cooperative)
        EntryFactory(cooperative=day.shore.cooperative, member=day.members["anna"])
    assert (questions(lists), questions(one)) == before
