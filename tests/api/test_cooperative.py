import pytest
from rest_framework.request import Request
from rest_framework.test import APIRequestFactory

from api.authentication import PhoneAuthentication
from api.cooperative import cooperative_of, person_of
from coop.errors import NotKnown
from tests.api.people import somebody
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.phones import token_for


def asked(query=None, **headers):
    request = APIRequestFactory().get("/", query, headers=headers)
    return Request(request, authenticators=[PhoneAuthentication()])


def test_a_request_without_a_token_is_a_visitor_of_the_demonstration(ours, theirs):
    assert person_of(asked()) == (None, ours, "visitor", None)


def test_a_request_cannot_choose_another_cooperative(ours, theirs):
    assert cooperative_of(asked({"cooperative": theirs.slug}, cooperative=theirs.slug)) == ours


@pytest.mark.parametrize("role", ["member", "packer", "manager"])
def test_a_token_says_who_asks_for_which_cooperative_on_which_phone(role, ours, theirs):
    member = somebody(theirs, role)
    person = person_of(asked(authorization=f"Token {token_for(member)}"))
    assert person[:3] == (member, theirs, role)
    assert person.phone.cooperative == theirs


def test_a_member_cannot_choose_another_cooperative(ours, theirs):
    token = token_for(somebody(theirs))
    request = asked({"cooperative": ours.slug}, authorization=f"Token {token}", cooperative=ours.slug)
    assert cooperative_of(request) == theirs


@pytest.mark.django_db
def test_without_a_demonstration_nobody_is_a_visitor():
    CooperativeFactory()
    with pytest.raises(NotKnown, match="enrol this phone"):
        cooperative_of(asked())
