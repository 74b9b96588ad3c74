from datetime import date, timedelta

import pytest
from django.contrib.auth import get_user_model

from coop.models import PhoneToken
from coop.selectors.phones import phones_of, token_of
from tests.factories.members import OwnerFactory, StrangerFactory
from tests.factories.phones import MORNING, PhoneFactory, token_for
from tests.selectors.queries import same_for_many

pytestmark = pytest.mark.django_db


def test_a_token_finds_its_holder_and_her_phone_in_one_look(django_assert_num_queries):
    owner = OwnerFactory()
    phone = PhoneFactory(cooperative=owner.cooperative)
    words = token_for(owner, phone)
    with django_assert_num_queries(1):
        token = token_of(words)
        assert (token.user.member, token.phone) == (owner, phone)
        assert token.user.member.cooperative == owner.cooperative


@pytest.mark.parametrize(
    "change", [str.upper, lambda words: words[:-1], lambda words: words + "0", lambda _: ""]
)
def test_words_that_are_nearly_right_find_nobody(change):
    words = token_for(OwnerFactory())
    assert token_of(words)
    assert token_of(change(words)) is None


def test_an_expired_token_counts_no_more():
    owner = OwnerFactory()
    for expiry in (timedelta(seconds=-1), None):
        assert token_of(token_for(owner, expiry=expiry)) is None


def test_a_revoked_phone_a_member_who_left_and_a_locked_account_are_out_even_past_the_services():
    owner = OwnerFactory()
    phone = PhoneFactory(cooperative=owner.cooperative)
    words = token_for(owner, phone)
    for row, column, out in (
        (phone, "revoked_at", MORNING),
        (owner, "left_on", date(2026, 3, 2)),
        (get_user_model().objects.get(), "is_active", False),
    ):
        before = getattr(row, column)
        type(row).objects.filter(pk=row.pk).update(**{column: out})
        assert token_of(words) is None
        type(row).objects.filter(pk=row.pk).update(**{column: before})
    assert token_of(words)


def test_a_cooperative_sees_its_own_phones():
    own = PhoneFactory(cooperative=OwnerFactory().cooperative)
    PhoneFactory(cooperative=StrangerFactory().cooperative)
    assert list(phones_of(own.cooperative)) == [own]
    assert PhoneToken.objects.count() == 0


def test_thirty_phones_cost_as_many_queries_as_one():
    owner = OwnerFactory()

    def holders():
        found = phones_of(owner.cooperative)
        return [token.user.member.name for phone in found for token in phone.tokens.all()]

    same_for_many(lambda: token_for(owner), holders, most=4)
