import pytest
from django.test import RequestFactory

from api.callers import Tries, address_of
from coop.errors import Invalid, TooMany

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
