import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coop.engines.claims import contested, equal_awards, equal_losses, proportional

FEW = settings(max_examples=60, deadline=None)
RULES = [proportional, equal_awards, equal_losses, contested]
CASES = st.tuples(st.lists(st.integers(0, 500), min_size=1, max_size=8), st.floats(0, 1))


@pytest.mark.parametrize(
    ("estate", "expected"),
    [
        # Aumann & Maschler 1985, J. Econ. Theory 36:195, claims 100, 200, 300; above 300 their figure 1.
        (100, [100 / 3] * 3),
        (200, [50, 75, 75]),
        (300, [50, 100, 150]),
        (400, [50, 125, 225]),
        (450, [50, 150, 250]),
        (500, [200 / 3, 500 / 3, 800 / 3]),
        (550, [250 / 3, 550 / 3, 850 / 3]),
        (600, [100, 200, 300]),
    ],
)
def test_the_estates_of_the_talmud(estate, expected):
    assert contested([100, 200, 300], estate=estate) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(("claims", "expected"), [([1, 1], [0.5, 0.5]), ([1, 0.5], [0.75, 0.25])])
def test_two_hold_a_garment(claims, expected):
    # Mishnah, Bava Metzia 2a.
    assert contested(claims, estate=1) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(
    ("rule", "expected"),
    [(proportional, [50, 100, 150]), (equal_awards, [100] * 3), (equal_losses, [0, 100, 200])],
)
def test_an_estate_of_300_by_the_other_rules(rule, expected):
    # By hand, claims 100, 200, 300.
    assert rule([100, 200, 300], estate=300) == pytest.approx(expected, abs=1e-10)


@pytest.mark.parametrize("rule", RULES)
@FEW
@given(CASES)
def test_awards_sum_to_the_estate_and_lie_between_nothing_and_the_claim(rule, case):
    claims, part = case
    estate = part * sum(claims)
    awards = rule(claims, estate=estate)
    assert awards.sum() == pytest.approx(estate, abs=1e-9)
    assert (awards >= -1e-9).all()
    assert (awards <= np.array(claims) + 1e-9).all()
    order = np.argsort(claims, kind="stable")
    assert (np.diff(awards[order]) >= -1e-9).all()
    assert (np.diff((np.array(claims) - awards)[order]) >= -1e-9).all()


@FEW
@given(CASES)
def test_awards_and_losses_mirror_each_other(case):
    claims, part = case
    estate = part * sum(claims)
    missing = max(0.0, sum(claims) - estate)
    for rule, mirror in [(equal_awards, equal_losses), (contested, contested), (proportional, proportional)]:
        lost = np.array(claims) - rule(claims, estate=estate)
        assert lost == pytest.approx(mirror(claims, estate=missing), abs=1e-8)


@FEW
@given(CASES)
def test_any_two_divide_what_they_get_as_a_contested_garment(case):
    claims, part = case
    awards = contested(claims, estate=part * sum(claims))
    for one in range(len(claims)):
        for other in range(one):
            pot = awards[one] + awards[other]
            a, b = min(claims[one], pot), min(claims[other], pot)
            assert awards[one] == pytest.approx((pot + a - b) / 2, abs=1e-8)


@pytest.mark.parametrize("rule", RULES)
def test_the_whole_the_nothing_and_one_claim_alone(rule):
    assert rule([30, 0, 70], estate=100).tolist() == [30, 0, 70]
    assert rule([30, 0, 70], estate=0).tolist() == [0, 0, 0]
    assert rule([0, 0], estate=0).tolist() == [0, 0]
    assert rule([50], estate=20) == pytest.approx([20])


@pytest.mark.parametrize("rule", RULES)
@pytest.mark.parametrize(
    ("claims", "estate", "message"),
    [
        ([100, 200], 300.01, r"estate must be 0 to 300\.0, the sum of the claims, not 300\.01"),
        ([100, 200], -1, r"estate must be 0 to 300\.0, the sum of the claims, not -1\.0"),
        ([100, 200], np.nan, "estate must be 0 to .* not nan"),
        ([100, -1], 50, r"claims must be 0 or more, not -1\.0"),
        ([100, np.nan], 50, "claims must be 0 or more, not nan"),
        ([100, np.inf], 50, "claims must be 0 or more, not inf"),
        ([], 0, r"claims must be 1 to 100000, not of shape \(0,\)"),
    ],
)
def test_what_is_out_of_range_is_refused_by_name_and_value(rule, claims, estate, message):
    with pytest.raises(ValueError, match=message):
        rule(claims, estate=estate)
