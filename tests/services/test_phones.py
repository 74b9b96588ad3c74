from datetime import UTC, datetime

import pytest

from coop.errors import NotAllowed, NotFound
from coop.selectors.phones import token_of
from coop.services.phones import put_out, revoke_phone
from tests.factories.members import FellowFactory, MemberFactory, OwnerFactory, StrangerFactory
from tests.factories.phones import PhoneFactory, token_for

pytestmark = pytest.mark.django_db

NOW = datetime(2026, 3, 2, 6, tzinfo=UTC)


@pytest.fixture
def owner():
    return OwnerFactory()


@pytest.fixture
def phone(owner):
    return PhoneFactory(cooperative=owner.cooperative)


def test_a_revoked_phone_is_out_at_once_for_all_who_hold_it(owner, phone):
    hers, fellows = token_for(owner, phone), token_for(FellowFactory(), phone)
    elsewhere = token_for(owner)
    manager = MemberFactory(cooperative=owner.cooperative, role="manager")
    assert revoke_phone(by=manager, phone=phone, at=NOW).revoked_at == NOW
    assert (token_of(hers), token_of(fellows)) == (None, None)
    assert token_of(elsewhere)


def test_who_holds_a_phone_may_revoke_it(owner, phone):
    token_for(owner, phone)
    assert revoke_phone(by=owner, phone=phone, at=NOW).revoked_at == NOW


@pytest.mark.parametrize("role", ["member", "packer"])
def test_who_does_not_hold_it_may_not(owner, phone, role):
    hers = token_for(owner, phone)
    with pytest.raises(NotAllowed):
        revoke_phone(by=MemberFactory(cooperative=owner.cooperative, role=role), phone=phone, at=NOW)
    assert token_of(hers)


def test_a_phone_of_strangers_is_not_there(owner):
    manager = MemberFactory(cooperative=owner.cooperative, role="manager")
    with pytest.raises(NotFound):
        revoke_phone(by=manager, phone=PhoneFactory(cooperative=StrangerFactory().cooperative), at=NOW)


def test_revoking_again_keeps_the_first_hour(owner, phone):
    manager = MemberFactory(cooperative=owner.cooperative, role="manager")
    revoke_phone(by=manager, phone=phone, at=NOW)
    assert revoke_phone(by=manager, phone=phone, at=NOW.replace(hour=9)).revoked_at == NOW


def test_a_member_is_put_out_everywhere_or_everywhere_else(owner, phone):
    here, elsewhere, fellows = token_for(owner, phone), token_for(owner), token_for(FellowFactory(), phone)
    put_out(owner, but=phone)
    assert (bool(token_of(here)), token_of(elsewhere)) == (True, None)
    put_out(owner)
    assert token_of(here) is None
    assert token_of(fellows)


def test_who_never_had_a_phone_is_put_out_without_putting_out_others(owner):
    fellows = token_for(FellowFactory())
    put_out(owner)
    assert token_of(fellows)
