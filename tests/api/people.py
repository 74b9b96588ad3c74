"""People who ask: a visitor, members with their phones, and strangers of another cooperative."""

from typing import NamedTuple

from django.test import Client

from tests.factories.members import MemberFactory
from tests.factories.phones import PhoneFactory, token_for


def somebody(cooperative, role="member", **columns):
    """A member of a cooperative with a role."""
    return MemberFactory(cooperative=cooperative, role=role, **columns)


def client_of(member, phone=None):
    """A client that asks with a token of this member, on a phone of her own unless one is named."""
    return Client(headers={"authorization": f"Token {token_for(member, phone)}"})


class Asking:
    """Asks addresses below /api/v1/ as somebody, and answers with the status and the body."""

    def __init__(self, client=None):
        self.client = client or Client()

    def __call__(self, address, **query):
        return told(self.client.get(f"/api/v1/{address}", query))

    def post(self, address, body=None):
        return told(self.client.post(f"/api/v1/{address}", body or {}, content_type="application/json"))

    def patch(self, address, body):
        return told(self.client.patch(f"/api/v1/{address}", body, content_type="application/json"))


def asking_as(member, phone=None):
    return Asking(client_of(member, phone))


def told(response):
    """Status and body; what is no JSON, a file say, as its bytes."""
    is_json = response.headers.get("Content-Type", "").startswith("application/json")
    return response.status_code, response.json() if is_json else response.content or None


class Cast(NamedTuple):
    """Everybody that a route is tried with. The owner and whoever holds her phone with her are two."""

    ours: object
    theirs: object
    phone: object
    owner: object
    fellow: object
    packer: object
    manager: object
    stranger: object
    strange_manager: object


def cast(ours, theirs):
    """One of each; names say whose they are, so that an answer that shows too much can be told."""
    phone = PhoneFactory(cooperative=ours, name="Phone of ours")
    people = [
        somebody(ours, role, name=f"{name} of ours")
        for role, name in (
            ("member", "Owner"),
            ("member", "Fellow"),
            ("packer", "Packer"),
            ("manager", "Manager"),
        )
    ]
    strangers = [somebody(theirs, role, name=f"Strange {role}") for role in ("member", "manager")]
    return Cast(ours, theirs, phone, *people, *strangers)
