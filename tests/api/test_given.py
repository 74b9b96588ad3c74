from datetime import UTC, datetime
from uuid import uuid4

import pytest

from api.given import known, status_of
from coop.errors import Invalid
from coop.selectors.lots import lots_of
from tests.factories.lots import LotFactory

NOW = datetime(2026, 3, 1, 12, tzinfo=UTC)


def test_what_was_written_at_another_hour_was_there_before():
    assert status_of(NOW, NOW) == 201
    assert status_of(NOW.replace(microsecond=1), NOW) == 200


@pytest.mark.django_db
def test_a_row_of_strangers_is_as_unknown_as_none():
    ours, theirs = LotFactory(), LotFactory()
    rows = lots_of(ours.cooperative)
    assert known(rows, "lot", ours.uuid, "a lot") == ours
    for uuid in (theirs.uuid, uuid4()):
        with pytest.raises(Invalid) as refused:
            known(rows, "lot", uuid, "a lot")
        [problem] = refused.value.problems
        assert (problem.field, problem.value, problem.right) == ("lot", str(uuid), "a lot")
