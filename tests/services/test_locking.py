import pytest
from django.db import connection, transaction

from coop.services.locking import lock
from tests.factories.members import OwnerFactory

pytestmark = pytest.mark.django_db


def test_the_row_of_the_cooperative_is_held_and_answered():
    owner = OwnerFactory()
    with transaction.atomic():
        assert lock(owner.cooperative) == owner.cooperative


def test_where_the_database_can_it_asks_for_the_row_to_be_held(django_assert_num_queries):
    owner = OwnerFactory()
    with django_assert_num_queries(1) as asked:
        lock(owner.cooperative)
    assert ("FOR UPDATE" in asked[0]["sql"]) == connection.features.has_select_for_update
