from datetime import date
from uuid import uuid4

import pytest

from coop.errors import Conflict, Invalid
from coop.models import Entry
from coop.services.writing import first_answer, identified, written
from tests.factories.entries import EntryFactory
from tests.factories.members import OwnerFactory

pytestmark = pytest.mark.django_db


def test_what_its_form_refuses_is_named_field_by_field_and_not_saved():
    owner = OwnerFactory()
    line = EntryFactory.build(cooperative=owner.cooperative, member=owner, written_by=owner, kind="gift")
    with pytest.raises(Invalid) as refused:
        written(line)
    assert "kind" in [problem.field for problem in refused.value.problems]
    assert not Entry.objects.of(owner.cooperative).exists()


def test_a_row_that_is_right_is_saved():
    owner = OwnerFactory()
    line = EntryFactory.build(cooperative=owner.cooperative, member=owner, written_by=owner)
    assert written(line).pk
    assert line.noted_on == date(2026, 3, 5)


def test_the_first_answer_is_found_by_its_id_among_ones_own_rows_alone():
    line = EntryFactory()
    own = Entry.objects.of(line.cooperative)
    assert first_answer(own, line.uuid, kind="payment") == line
    assert first_answer(own, uuid4()) is None
    assert first_answer(own, None) is None
    assert first_answer(Entry.objects.of(EntryFactory().cooperative), line.uuid) is None
    with pytest.raises(Conflict, match="something else"):
        first_answer(own, line.uuid, kind="payout")


def test_without_an_id_of_the_phone_the_row_draws_its_own():
    name = uuid4()
    assert (identified(name), identified(None)) == ({"uuid": name}, {})
