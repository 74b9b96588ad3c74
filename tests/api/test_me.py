from api.me import MeOut
from coop.services.enrolments import MANAGER_DAYS
from tests.api.people import asking_as, somebody
from tests.api.test_openapi import differences
from tests.factories.phones import PhoneFactory


def test_a_holder_sees_who_she_is_on_which_phone_for_which_cooperative(ours):
    phone = PhoneFactory(cooperative=ours, name="At the landing")
    anna = somebody(ours, "packer", name="Anna")
    status, me = asking_as(anna, phone)("me/")
    assert status == 200
    assert differences(MeOut(), me) == []
    assert me["member"] == {"id": anna.pk, "name": "Anna", "role": "packer"}
    assert me["phone"] == {"id": str(phone.uuid), "name": "At the landing"}
    assert me["cooperative"]["slug"] == ours.slug
    assert me["cooperative"]["sharing_rule"] == "capped"


def test_a_manager_sets_her_password_and_signs_in_with_it(ours, ask):
    manager = somebody(ours, "manager")
    words = {"name": "esther", "password": "eleven hard fish"}
    assert asking_as(manager).post("me/password/", words) == (204, None)
    status, session = ask.post("sign-in/", {**words, "phone_name": "Office"})
    assert status == 201
    assert session["me"]["member"]["id"] == manager.pk
    assert MANAGER_DAYS == 30


def test_a_password_that_is_refused_is_not_sent_back(ours):
    hers = asking_as(somebody(ours, "manager"))
    for password in ("short1!", "x" * 129, 12345678, None):
        status, answer = hers.post("me/password/", {"name": "esther", "password": password})
        assert status == 400
        [field] = answer["error"]["fields"]
        assert field["field"] == "password"
        assert field["value"] in ("not shown", None)
        assert str(password) not in str(answer) or password is None


def test_a_name_that_is_taken_is_a_conflict(ours):
    words = {"name": "esther", "password": "eleven hard fish"}
    assert asking_as(somebody(ours, "manager")).post("me/password/", words)[0] == 204
    status, answer = asking_as(somebody(ours, "manager")).post("me/password/", words)
    assert (status, answer["error"]["fields"][0]["field"]) == (409, "name")
