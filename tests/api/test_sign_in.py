import pytest
from django.test import Client

from coop.services.sign_in import set_password
from tests.api.people import Asking, asking_as, somebody
from tests.factories.phones import PhoneFactory

GOOD = {"name": "esther", "password": "eleven hard fish", "phone_name": "Office"}


@pytest.fixture
def esther(manager):
    set_password(by=manager, name=GOOD["name"], password=GOOD["password"])
    return manager


def sent(**changes):
    return Client().post("/api/v1/sign-in/", GOOD | changes, content_type="application/json")


def test_a_manager_signs_in_on_the_phone_that_she_holds(esther, ours, ask):
    phone = PhoneFactory(cooperative=ours, name="At the landing")
    status, session = ask.post("sign-in/", {**GOOD, "phone": str(phone.uuid)})
    assert status == 201
    assert session["phone"]["name"] == "At the landing"
    hers = Asking(Client(headers={"authorization": f"Token {session['token']}"}))
    assert hers("me/")[1]["member"]["id"] == esther.pk


def test_a_wrong_name_and_a_wrong_password_get_the_same_answer(esther):
    answers = {sent(**wrong).content for wrong in ({"name": "nobody"}, {"password": "wrong"})}
    assert len(answers) == 1
    assert sent(name="nobody").status_code == 400


def test_the_sixth_try_waits_in_the_one_shape_and_says_how_long(esther):
    statuses = [sent(password="wrong").status_code for _ in range(6)]
    assert statuses == [400, 400, 400, 400, 429, 429]
    response = sent()
    assert response.status_code == 429
    assert response.json()["error"]["code"] == "too_many"
    assert 800 < int(response["Retry-After"]) <= 900


def test_another_address_told_by_the_sender_herself_changes_nothing(esther):
    for number in range(6):
        client = Client(headers={"x-forwarded-for": f"203.0.113.{number}"})
        last = client.post("/api/v1/sign-in/", {**GOOD, "password": "x"}, content_type="application/json")
    assert last.status_code == 429


def test_many_names_from_one_address_wait_too(esther):
    for number in range(30):
        assert sent(name=f"name{number}").status_code == 400
    assert sent().status_code == 429


def test_the_page_of_the_tables_has_the_same_limit(admin_user):
    page = {"username": admin_user.username, "password": "wrong"}
    answers = [Client().post("/admin/login/", page) for _ in range(6)]
    assert [one.status_code for one in answers] == [200, 200, 200, 200, 429, 429]
    assert answers[-1]["Retry-After"] == "900"


def test_who_signs_out_is_out_and_her_fellow_on_the_phone_stays(ours):
    phone = PhoneFactory(cooperative=ours)
    hers, fellows = (asking_as(somebody(ours), phone) for _ in range(2))
    assert hers.post("sign-out/") == (204, None)
    assert hers("me/")[0] == 401
    assert fellows("me/")[0] == 200
