"""Damaged tables: each is told by line and column with what would be right, and changes nothing."""

import pytest
from django.core.cache import caches
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from api.csv_subjects import SUBJECTS as COLUMNS
from tests.api.damaged import damaged_tables
from tests.api.files import SUBJECTS, Files, everything, full_trade
from tests.api.packing_scene import clock
from tests.api.test_errors import is_of_the_one_shape

__all__ = ["clock"]


@pytest.fixture
def files(clock, manager, ours_trading):
    full_trade(ours_trading)
    return Files(manager)


def cases(files, ours, subject):
    return list(damaged_tables(files.fetch(subject), COLUMNS[subject].columns(ours)))


@pytest.mark.parametrize("subject", SUBJECTS)
def test_each_is_told_by_its_line_and_changes_nothing(files, ours, subject):
    before = everything()
    for what, content, where in cases(files, ours, subject):
        caches["tries"].clear()
        status, body = files.take(subject, content, dry_run="no")
        assert status == 400, what
        assert is_of_the_one_shape(body)
        told = body["error"]["fields"]
        assert any(one["field"].startswith(where) for one in told), (what, told)
        assert all(one["problem"] and one["right"] for one in told), what
    assert everything() == before


def test_they_are_more_than_a_hundred(files, ours):
    assert sum(len(cases(files, ours, subject)) for subject in SUBJECTS) > 100


spoiled = st.tuples(
    st.integers(0, 10_000), st.sampled_from([b"", b"\0", b'"', b",", b";", b"\n", b"\xff", b"'", b"=", b"x"])
)


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(subject=st.sampled_from(SUBJECTS), hurts=st.lists(spoiled, min_size=1, max_size=4))
def test_whatever_happens_to_its_bytes_it_is_told_or_it_is_a_table(files, subject, hurts):
    """A dry run, for what is still a table may well say something else."""
    content = bytearray(files.fetch(subject))
    for at, byte in hurts:
        at %= len(content)
        content[at : at + 1] = byte
    caches["tries"].clear()
    before = everything()
    status, body = files.take(subject, bytes(content), dry_run="yes")
    assert status in (200, 400, 413), body
    assert status == 200 or (is_of_the_one_shape(body) and body["error"]["message"])
    assert everything() == before
