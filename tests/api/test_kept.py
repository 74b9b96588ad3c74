"""What a phone keeps is what the interface says at each path, whatever changed and whatever was lost."""

import gzip
import json
import random

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from coop.models import Kept, Lot, Parcel
from tests.api.kept_scene import KEPT, Phone, at_work, lasting
from tests.api.parcel_rows import billed_parcel, payment
from tests.api.people import cast
from tests.factories.lots import LotFactory

MEMBERS_KINDS = {
    "buyers", "carton-designs", "claims", "cooperatives", "departures", "lots", "parcels", "quotes",
    "routes", "species", "statement", "timetables",
}  # fmt: skip
PACKERS_KINDS = MEMBERS_KINDS | {"members", "statements"}
MANAGERS_KINDS = PACKERS_KINDS | {
    "buyer-limits", "carriers", "charges", "fish-prices", "material-prices", "materials", "old-prices",
    "phones", "tariffs",
}  # fmt: skip


@pytest.fixture
def people(ours, theirs):
    found = cast(ours, theirs)
    at_work(found)
    return found


def kinds(phone):
    return {path.split("?")[0].split("/")[3] for path in phone.documents}


def assert_as_asked(phone):
    for path, document in phone.documents.items():
        assert lasting(document) == lasting(phone.asked_at(path)), path


@pytest.mark.parametrize(
    ("who", "expected"),
    [("owner", MEMBERS_KINDS), ("packer", PACKERS_KINDS), ("manager", MANAGERS_KINDS)],
)
def test_everything_comes_at_once_as_the_interface_says_it(people, who, expected):
    phone = Phone(getattr(people, who), sparing="false").refresh()
    assert expected <= kinds(phone)
    assert_as_asked(phone)


def test_departures_come_with_the_first_of_them_in_full(people):
    phone = Phone(people.owner, sparing="false").refresh()
    ones = [path for path in phone.documents if path.startswith("/api/v1/departures/")]
    assert sum("/departures/?" in path for path in ones) == 1
    in_full = [phone.documents[path] for path in ones if "/departures/?" not in path]
    assert 1 <= len(in_full) <= 4
    assert all({"curve", "packing", "cost"} <= one.keys() for one in in_full)


def test_who_spares_data_gets_two_of_them(people):
    phone = Phone(people.owner, sparing="true").refresh()
    assert sum("curve" in one for one in phone.documents.values()) == 2


def test_a_member_gets_nothing_that_is_only_a_fellows(people):
    text = str(Phone(people.owner).refresh().documents)
    strange = Lot.objects.of(people.ours).filter(member=people.fellow)
    assert strange.exists()
    assert not any(f"/lots/{lot.uuid}/" in text for lot in strange)
    shared = {path for path in Phone(people.fellow).refresh().documents if "/split/" in path}
    assert not shared & set(Phone(people.owner).refresh().documents)


def test_strangers_get_nothing_of_ours(people):
    assert "of ours" not in str(Phone(people.strange_manager).refresh().documents)


def test_nothing_changed_is_told_in_a_word_and_with_the_tag_in_none(people):
    phone = Phone(people.owner).refresh()
    again = phone.ask()
    assert again == {"since": phone.cursor, "cursor": phone.cursor, "documents": [], "gone": []}
    asked, known = {"since": phone.cursor} | phone.usually, {"if-none-match": f'"{phone.cursor}"'}
    response = phone.client.get(KEPT, asked, headers=known)
    assert (response.status_code, response.content) == (304, b"")
    payment(people.ours, people.owner)
    assert phone.client.get(KEPT, asked, headers=known).status_code == 200


def test_it_travels_compressed_and_no_browser_keeps_it_in_the_open(people):
    phone = Phone(people.owner)
    plain = phone.client.get(KEPT, phone.usually)
    small = phone.client.get(KEPT, phone.usually, headers={"accept-encoding": "gzip"})
    assert small["Content-Encoding"] == "gzip"
    assert json.loads(gzip.decompress(small.content))["cursor"] == plain.json()["cursor"]
    assert len(small.content) < len(plain.content) / 3
    assert "no-store" in small["Cache-Control"]
    assert "Authorization" in small["Vary"]


def test_a_new_lot_costs_a_row_and_a_lot(people):
    phone = Phone(people.owner).refresh()
    lot = LotFactory(cooperative=people.ours, member=people.owner, note="new")
    answer = phone.ask()
    came = {one["path"]: one for one in answer["documents"]}
    assert [row["note"] for row in came["/api/v1/lots/?page_size=100"]["rows"]] == ["new"]
    assert came[f"/api/v1/lots/{lot.uuid}/"]["value"]["note"] == "new"
    phone.keep(answer)
    assert_as_asked(phone)


def test_a_cursor_that_nobody_knows_or_that_is_a_fellows_is_answered_whole(people):
    phone, fellow = Phone(people.owner).refresh(), Phone(people.fellow).refresh()
    for cursor in (fellow.cursor, "unknown"):
        answer = phone.ask(since=cursor)
        assert answer["since"] is None
        assert all("value" in one for one in answer["documents"])


def test_two_who_hold_one_phone_are_given_each_her_own(people):
    owner, fellow = Phone(people.owner, people.phone).refresh(), Phone(people.fellow, people.phone).refresh()
    payment(people.ours, people.owner)
    assert [one["path"] for one in owner.ask()["documents"]] == ["/api/v1/statement/?page_size=100"]
    assert fellow.ask()["documents"] == []


def test_no_more_than_two_cursors_of_a_session_are_remembered(people):
    phone = Phone(people.owner)
    for _ in range(4):
        payment(people.ours, people.owner)
        phone.refresh()
    assert Kept.objects.of(people.ours).count() == 2


def new_lot(people, _dice):
    LotFactory(cooperative=people.ours, member=people.owner)


def changed_lot(people, dice):
    lot = dice.choice(list(Lot.objects.of(people.ours)))
    lot.note = dice.choice("abc")
    lot.save(update_fields=["note"])


def dropped_lot(people, dice):
    free = list(Lot.objects.of(people.ours).filter(parts__isnull=True))
    if free:
        dice.choice(free).delete()


def new_payment(people, dice):
    payment(people.ours, dice.choice([people.owner, people.fellow]))


def new_bill(people, dice):
    billed_parcel(people.ours, dice.choice([people.owner, people.fellow]))


def another_driver(people, dice):
    Parcel.objects.of(people.ours).filter(state="open").update(driver=dice.choice("xyz"))


def another_name(people, dice):
    people.fellow.name = f"{dice.choice('AB')} of ours"
    people.fellow.save()


CHANGES = (new_lot, changed_lot, dropped_lot, new_payment, new_bill, another_driver, another_name)


@pytest.mark.parametrize(("who", "times"), [("owner", 10), ("packer", 4)])
def test_whatever_changed_and_whichever_answer_was_lost_the_phone_has_it_all(people, who, times):
    dice, phone = random.Random(who), Phone(getattr(people, who)).refresh()
    for _ in range(times):
        for _ in range(dice.randint(0, 2)):
            dice.choice(CHANGES)(people, dice)
        answer = phone.ask()
        if dice.random() < 0.6:
            phone.keep(answer)
    phone.refresh()
    assert_as_asked(phone)
    assert set(phone.documents) == set(Phone(getattr(people, who)).refresh().documents)


def test_each_row_more_costs_no_more_than_asking_for_it(people):
    """A lot more is one question for the holder and those of its own address: no list is read for it."""
    phone = Phone(people.owner)

    def queries(path, **asked):
        with CaptureQueriesContext(connection) as seen:
            assert phone.client.get(path, asked).status_code == 200
        return len(seen)

    phone.refresh()
    before, lot = queries(KEPT, **phone.usually), LotFactory(cooperative=people.ours, member=people.owner)
    phone.refresh()
    assert queries(KEPT, **phone.usually) - before <= queries(f"/api/v1/lots/{lot.uuid}/")
