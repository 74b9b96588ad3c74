"""Damaged feeds: each is told by file and line with what would be right, and changes nothing."""

import pytest
from django.core.cache import caches
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.api.damaged import damaged_feeds
from tests.api.feeds import FILES, zipped
from tests.api.files import Files, everything, full_trade
from tests.api.packing_scene import clock
from tests.api.test_errors import is_of_the_one_shape

__all__ = ["clock"]
CASES = list(damaged_feeds())


@pytest.fixture
def files(clock, manager, ours_trading):
    full_trade(ours_trading)
    return Files(manager)


@pytest.fixture
def asked(ours_trading):
    return {
        "route": ours_trading.route.slug,
        "carrier": ours_trading.carrier.pk,
        "from_stop": "park",
        "trips": "bus",
    }


def test_a_sound_feed_is_taken_for_one(files, asked):
    assert files.feed(zipped(), **asked)[0] == 200


def test_they_are_more_than_a_hundred_and_none_is_there_twice():
    assert len(CASES) == len({what for what, _, _ in CASES}) > 100


def test_each_is_told_by_its_file_and_changes_nothing(files, asked):
    before = everything()
    for what, content, where in CASES:
        caches["tries"].clear()
        status, body = files.feed(content, **asked, dry_run="no")
        assert status == 400, what
        assert is_of_the_one_shape(body)
        told = body["error"]["fields"]
        assert any(one["field"].startswith(where) for one in told), (what, told)
        assert all(one["problem"] and one["right"] for one in told), what
    assert everything() == before


hurt = st.tuples(st.integers(0, 100_000), st.binary(max_size=3))


def spoiled(content, hurts):
    content = bytearray(content)
    for at, some in hurts:
        at %= len(content)
        content[at : at + len(some)] = some
    return bytes(content)


def is_told_and_changes_nothing(files, asked, content):
    caches["tries"].clear()
    before = everything()
    status, body = files.feed(content, **asked)
    assert status in (200, 400, 409, 413), body
    assert status == 200 or (is_of_the_one_shape(body) and body["error"]["message"])
    assert everything() == before


sometimes = settings(
    max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None
)


@sometimes
@given(hurts=st.lists(hurt, min_size=1, max_size=4))
def test_whatever_happens_to_the_bytes_of_its_zip_it_is_told(files, asked, hurts):
    is_told_and_changes_nothing(files, asked, spoiled(zipped(), hurts))


@sometimes
@given(name=st.sampled_from(sorted(FILES)), hurts=st.lists(hurt, min_size=1, max_size=4))
def test_whatever_happens_to_the_bytes_of_a_file_it_is_told(files, asked, name, hurts):
    content = spoiled(FILES[name].encode(), hurts)
    is_told_and_changes_nothing(files, asked, zipped(FILES | {name: content}))
