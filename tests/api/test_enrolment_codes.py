from datetime import datetime, timedelta

import pytest

from api.enrolment_codes import NewCodeOut
from api.qr import qr_of
from tests.api.asked import fields_of
from tests.api.people import somebody
from tests.api.test_openapi import differences


@pytest.fixture
def anna(ours):
    return somebody(ours, name="Anna")


def test_a_new_code_comes_with_its_link_and_a_qr_of_the_whole_address(ask_as_manager, anna):
    status, code = ask_as_manager.post("enrolment-codes/", {"member": anna.pk})
    assert status == 201
    assert differences(NewCodeOut(), code) == []
    assert code["member"] == {"id": anna.pk, "name": "Anna"}
    assert code["link"] == f"/enrol#{code['code']}"
    assert code["qr"] == qr_of(f"http://testserver/enrol#{code['code']}")


@pytest.mark.parametrize(("asked", "hours"), [({}, 24), ({"valid_hours": 1}, 1), ({"valid_hours": 168}, 168)])
def test_a_code_counts_as_long_as_was_asked(ask_as_manager, anna, asked, hours):
    code = ask_as_manager.post("enrolment-codes/", {"member": anna.pk, **asked})[1]
    issued, expires = (datetime.fromisoformat(code[name]) for name in ("issued_at", "expires_at"))
    assert expires - issued == timedelta(hours=hours)


def test_the_list_shows_open_codes_without_what_they_say(ask_as_manager, anna):
    made = ask_as_manager.post("enrolment-codes/", {"member": anna.pk})[1]
    answer = ask_as_manager("enrolment-codes/")[1]
    assert [row["id"] for row in answer["results"]] == [made["id"]]
    assert made["code"] not in str(answer)
    assert made["code"].replace("-", "") not in str(ask_as_manager(f"enrolment-codes/{made['id']}/"))


@pytest.mark.parametrize(
    ("body", "field"),
    [
        ({"valid_hours": 0}, "valid_hours"),
        ({"valid_hours": 169}, "valid_hours"),
        ({"valid_hours": 1.5}, "valid_hours"),
        ({"member": 10**9}, "member"),
        ({"member": "1"}, "member"),
        ({"code": "7KQ2M-XW94C"}, "code"),
    ],
)
def test_what_is_wrong_is_named(ask_as_manager, anna, body, field):
    status, answer = ask_as_manager.post("enrolment-codes/", {"member": anna.pk, **body})
    assert (status, fields_of(answer)[0][0]) == (400, field)


def test_a_code_for_who_has_left_is_a_conflict(ask_as_manager, ours):
    gone = somebody(ours, left_on="2026-03-02")
    assert ask_as_manager.post("enrolment-codes/", {"member": gone.pk})[0] == 409
