import pytest
from django.db import IntegrityError

from coop.models import Kept, PhoneToken
from tests.factories.kept import KeptFactory

pytestmark = pytest.mark.django_db


def test_a_cursor_stands_for_one_thing_on_one_phone_and_for_another_on_the_next():
    kept = KeptFactory()
    KeptFactory(cursor=kept.cursor)
    with pytest.raises(IntegrityError, match=r"token_id|kept_once_a_cursor"):
        KeptFactory(token=kept.token, cursor=kept.cursor)


def test_it_goes_with_the_token_under_which_it_was_given():
    kept, other = KeptFactory(), KeptFactory()
    PhoneToken.objects.filter(pk=kept.token.pk).delete()
    assert list(Kept.objects.all()) == [other]


def test_it_belongs_to_the_cooperative_of_its_phone():
    kept, _stranger = KeptFactory(), KeptFactory()
    assert list(Kept.objects.of(kept.token.phone.cooperative)) == [kept]


def test_its_name_tells_nothing_of_the_token():
    kept = KeptFactory()
    assert str(kept) == f"kept on {kept.token.phone.name}"
