from uuid import uuid4

from api.phones import PhoneOut
from tests.api.people import asking_as, somebody
from tests.api.test_openapi import differences
from tests.factories.phones import PhoneFactory, token_for


def test_a_manager_sees_who_holds_which_phone(ours, ask_as_manager):
    phone = PhoneFactory(cooperative=ours, name="At the landing")
    anna = somebody(ours, name="Anna")
    token = token_for(anna, phone)
    status, shown = ask_as_manager(f"phones/{phone.uuid}/")
    assert status == 200
    assert differences(PhoneOut(), shown) == []
    assert [holder["member"]["name"] for holder in shown["holders"]] == ["Anna"]
    assert token not in str(shown)


def test_a_revoked_phone_says_since_when_and_has_no_holders(ours, ask_as_manager):
    phone = PhoneFactory(cooperative=ours)
    token_for(somebody(ours), phone)
    status, shown = ask_as_manager.post(f"phones/{phone.uuid}/revoke/")
    assert (status, shown["holders"]) == (200, [])
    assert shown["revoked_at"]
    again = ask_as_manager.post(f"phones/{phone.uuid}/revoke/")[1]
    assert again["revoked_at"] == shown["revoked_at"]


def test_who_holds_a_phone_revokes_it_and_is_out_herself(ours):
    phone = PhoneFactory(cooperative=ours)
    hers = asking_as(somebody(ours), phone)
    assert hers.post(f"phones/{phone.uuid}/revoke/")[0] == 200
    assert hers("me/")[0] == 401


def test_a_phone_that_is_not_there_is_missing(ask_as_manager):
    assert ask_as_manager.post(f"phones/{uuid4()}/revoke/")[0] == 404


def test_revoking_takes_nothing_beside(ours, ask_as_manager):
    phone = PhoneFactory(cooperative=ours)
    assert ask_as_manager.post(f"phones/{phone.uuid}/revoke/", {"why": "lost"})[0] == 400
