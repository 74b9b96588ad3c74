import pytest
from django.db import IntegrityError, transaction

from coop.services.refusals import our_tables, put_aside
from tests.factories.entries import EntryFactory
from tests.services.archived_day import triggers

pytestmark = pytest.mark.django_db


def test_what_is_refused_is_let_through_inside_and_refused_again_after():
    entry = EntryFactory()
    with put_aside():
        type(entry).objects.filter(pk=entry.pk).update(amount_minor=-5)
    with pytest.raises(IntegrityError, match="entry_never_changes"), transaction.atomic():
        type(entry).objects.filter(pk=entry.pk).update(amount_minor=-6)


def test_every_trigger_is_there_again_as_it_was():
    before = triggers()
    assert len(before) > 100
    with put_aside():
        assert triggers() == []
    assert triggers() == before


def test_after_a_failure_they_are_there_again_with_the_transaction():
    before = triggers()
    with pytest.raises(ZeroDivisionError), transaction.atomic(), put_aside():
        raise ZeroDivisionError
    assert triggers() == before


def test_only_our_own_tables_are_touched():
    assert all(name.startswith("coop_") for name in our_tables())
