import re

import pytest
from django.core.cache import cache
from django.test import RequestFactory

from api.callers import LIMITS, Tries, address_of, counted, limit
from coop.errors import Invalid, TooMany
from tests.house.tree import ROOT, files

FORWARDED = "203.0.113.9, 198.51.100.7, 192.0.2.1"


def asked(place="192.0.2.1", forwarded=None):
    headers = {"x-forwarded-for": forwarded} if forwarded else {}
    return RequestFactory().get("/", REMOTE_ADDR=place, headers=headers)


@pytest.mark.parametrize(
    ("proxies", "forwarded", "address"),
    [
        (0, None, "192.0.2.99"),
        # Nobody chooses her own address: without a proxy of ours the header is not looked at.
        (0, FORWARDED, "192.0.2.99"),
        (1, FORWARDED, "192.0.2.1"),
        (2, FORWARDED, "198.51.100.7"),
        (1, None, None),
        (5, FORWARDED, "192.0.2.99"),
        (1, "nonsense", None),
    ],
)
def test_only_what_our_own_proxies_say_is_believed(settings, proxies, forwarded, address):
    settings.PROXIES = proxies
    assert address_of(asked("192.0.2.99", forwarded)) == address


@pytest.mark.parametrize(
    ("place", "address"),
    [
        ("2001:db8:1:2:3:4:5:6", "2001:db8:1:2::"),
        ("2001:db8:1:2::1", "2001:db8:1:2::"),
        ("2001:db8:1:3::1", "2001:db8:1:3::"),
        ("", None),
    ],
)
def test_a_subscriber_of_ipv6_is_one_whichever_of_her_addresses_she_takes(place, address):
    assert address_of(asked(place)) == address


@pytest.fixture
def tries(monkeypatch):
    monkeypatch.setattr("api.callers.time.time", lambda: 1000.0)
    return Tries("trying", most=3, seconds=600)


def fail(tries, request, failure):
    with pytest.raises(type(failure)), tries.counting_failures(request, Invalid):
        raise failure


def test_failures_are_counted_and_then_it_waits(tries):
    for _ in range(3):
        fail(tries, asked(), Invalid("wrong"))
    with pytest.raises(TooMany) as refusal, tries.counting_failures(asked(), Invalid):
        raise AssertionError("nobody looks at it any more")
    assert refusal.value.seconds == 200


def test_what_goes_well_or_fails_for_another_reason_is_not_counted(tries):
    for _ in range(9):
        with tries.counting_failures(asked(), Invalid):
            pass
        fail(tries, asked(), ZeroDivisionError())
    tries.require(asked())


def test_each_address_and_each_span_of_time_counts_by_itself(tries, monkeypatch):
    for _ in range(3):
        fail(tries, asked(), Invalid("wrong"))
    tries.require(asked("192.0.2.2"))
    monkeypatch.setattr("api.callers.time.time", lambda: 1200.0)
    tries.require(asked())


def test_what_counts_each_time_lets_so_many_through_and_says_when_again(monkeypatch):
    monkeypatch.setattr("api.callers.time.time", lambda: 1000.0)
    monkeypatch.setitem(LIMITS, "imports", (2, 600))
    for _ in range(2):
        limit("imports").spend(asked())
    with pytest.raises(TooMany) as refusal:
        limit("imports").spend(asked())
    assert refusal.value.seconds == 200
    limit("imports").spend(asked("192.0.2.2"))


@pytest.mark.parametrize("name", LIMITS)
def test_each_limit_of_the_table_counts_by_itself_and_bites(name):
    most, _ = LIMITS[name]
    for _ in range(most):
        limit(name).count(asked())
    with pytest.raises(TooMany):
        limit(name).require(asked())
    for other in LIMITS.keys() - {name}:
        limit(other).require(asked())


def test_what_is_counted_is_not_pushed_out_by_answers_that_are_kept():
    limit("sign-in").count(asked())
    assert counted().get(limit("sign-in").key(asked())) == 1
    assert cache.get(limit("sign-in").key(asked())) is None


def test_a_count_that_was_pushed_out_meanwhile_begins_anew(monkeypatch):
    # As if another thread had found it and a third had pushed it out in between.
    monkeypatch.setattr(counted(), "add", lambda *_: False)
    limit("sign-in").count(asked())
    limit("sign-in").require(asked())


def test_every_limit_stands_in_the_table():
    made = [
        str(path.relative_to(ROOT))
        for path in files(ROOT / "api", ".py")
        if re.search(r"\bTries\(", path.read_text(encoding="utf-8"))
    ]
    assert made == ["api/callers.py"]
