import pytest

from tests.api.people import asking_as, somebody
from tests.factories.calendar_links import CalendarLinkFactory

pytestmark = pytest.mark.django_db


def test_a_link_is_made_read_and_revoked(client, ours):
    ask = asking_as(somebody(ours))
    status, made = ask.post("calendar-links/")
    assert status == 201
    assert made["revoked_at"] is None
    path = made["address"].partition("testserver")[2]
    assert client.get(path).status_code == 200
    status, revoked = ask.post(f"calendar-links/{made['id']}/revoke/")
    assert status == 200
    assert revoked["revoked_at"]
    assert "address" not in revoked
    assert client.get(path).status_code == 404


def test_another_phone_of_hers_finds_a_link_and_revokes_it(client, ours):
    anna = somebody(ours, name="Anna")
    _, made = asking_as(anna).post("calendar-links/")
    other_phone = asking_as(anna)
    status, page = other_phone("calendar-links/")
    assert status == 200
    [link] = page["results"]
    assert link == {
        "id": made["id"],
        "member": {"id": anna.pk, "name": "Anna"},
        "shows": "own",
        "created_at": made["created_at"],
        "revoked_at": None,
    }
    assert other_phone.post(f"calendar-links/{link['id']}/revoke/")[0] == 200
    assert client.get(made["address"].partition("testserver")[2]).status_code == 404
    assert other_phone("calendar-links/")[1]["count"] == 0
    assert other_phone(f"calendar-links/{link['id']}/")[0] == 404


def test_a_list_never_tells_a_secret(ours):
    ask = asking_as(somebody(ours))
    _, made = ask.post("calendar-links/")
    secret = made["address"].rpartition("/")[2].removesuffix(".ics")
    assert len(secret) > 20
    for address in ("calendar-links/", f"calendar-links/{made['id']}/"):
        shown = str(ask(address)[1])
        assert made["id"] in shown
        assert secret not in shown
        assert "digest" not in shown


def test_a_member_and_a_packer_see_their_own_and_a_manager_everybodys(ours, theirs):
    anna, packer, manager = (somebody(ours, role) for role in ("member", "packer", "manager"))
    links = {who: CalendarLinkFactory(cooperative=ours, member=who) for who in (anna, packer, manager)}
    CalendarLinkFactory(cooperative=theirs)

    def seen(who, **query):
        found = asking_as(who)("calendar-links/", **query)[1]["results"]
        return {(link["id"], link["shows"]) for link in found}

    told = {who: (str(link.uuid), "own" if who is anna else "all") for who, link in links.items()}
    assert seen(anna) == {told[anna]}
    assert seen(packer) == {told[packer]}
    assert seen(manager) == set(told.values())
    assert seen(manager, member=packer.pk) == {told[packer]}
    assert seen(anna, member=packer.pk) == set()


def test_nothing_else_is_taken(ours):
    status, body = asking_as(somebody(ours)).post("calendar-links/", {"member": 3})
    assert status == 400
    assert body["error"]["fields"][0]["field"] == "member"
