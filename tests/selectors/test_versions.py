import pytest

from coop.selectors.versions import version_of


@pytest.mark.parametrize(
    ("given", "found"),
    [("0.1.0", (0, 1, 0)), ("2", (2, 0, 0)), (" 1.12 ", (1, 12, 0)), ("10.0.3", (10, 0, 3))],
)
def test_numbers_with_dots_are_a_version(given, found):
    assert version_of(given) == found


@pytest.mark.parametrize("given", ["", "1.", ".1", "1.2.3.4", "v1", "1.-2", "1.٢", "1.2.3000000"])
def test_nothing_else_is(given):
    assert version_of(given) is None


def test_a_later_version_is_more():
    assert version_of("0.9.9") < version_of("0.10") < version_of("1")
