from datetime import date
from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coop.engines.money import cost_line, exact, half_up, positive, rounded_up, whole

CENTS = st.decimals(min_value=0, max_value=10**9, places=4)


@pytest.mark.parametrize(
    ("value", "expected"),
    [
        (0.1, Fraction(1, 10)),
        (0.3, Fraction(3, 10)),
        (1e-7, Fraction(1, 10**7)),
        (80, Fraction(80)),
        (Decimal("2.65"), Fraction(53, 20)),
        (Fraction(1, 3), Fraction(1, 3)),
        (np.float64(0.3), Fraction(3, 10)),
        (np.int64(7), Fraction(7)),
        (True + 1.5, Fraction(5, 2)),
    ],
)
def test_a_number_is_read_as_a_person_wrote_it(value, expected):
    found = exact("mass", value)
    assert found == expected
    assert type(found.numerator) is int


@pytest.mark.parametrize("value", [True, "12", None, [1.0], 1j])
def test_what_is_no_number_is_refused_by_name_and_value(value):
    with pytest.raises(ValueError, match="mass must be a number, not "):
        exact("mass", value)


@pytest.mark.parametrize("value", [float("nan"), float("inf"), Decimal("NaN"), np.float64("nan")])
def test_what_is_not_finite_is_refused_by_name(value):
    with pytest.raises(ValueError, match=r"mass must be a finite number, not (nan|inf|NaN)"):
        exact("mass", value)


def test_what_is_out_of_range_is_refused_with_the_range():
    with pytest.raises(ValueError, match=r"mass must be 0 or more, not -0\.1"):
        exact("mass", -0.1)
    with pytest.raises(ValueError, match=r"share must be 0 to 1, not 1\.0001"):
        exact("share", 1.0001, most=1)
    assert exact("share", 1.0, most=1) == 1
    assert exact("share", -1, least=-1) == -1


@pytest.mark.parametrize(("value", "message"), [(0, "positive, not 0"), (-2, "0 to 10, not -2")])
def test_a_number_that_is_not_positive_is_refused(value, message):
    with pytest.raises(ValueError, match=f"mass must be {message}"):
        positive("mass", value, most=10)


@pytest.mark.parametrize("value", [1.0, True, "3", None, Fraction(3), -1, 10**12 + 1, float("nan")])
def test_money_that_is_not_whole_or_absurd_is_refused(value):
    with pytest.raises(ValueError, match="amount must be whole and 0 to 1000000000000, not "):
        whole("amount", value)


def test_whole_numbers_of_numpy_become_plain_ones():
    assert type(whole("amount", np.int32(5))) is int


@pytest.mark.parametrize(
    ("value", "expected"),
    [("0.5", 1), ("1.5", 2), ("2.5", 3), ("0.49", 0), ("-0.5", 0), ("-1.5", -1), ("7", 7)],
)
def test_of_two_whole_numbers_that_are_as_near_the_greater_is_taken(value, expected):
    assert half_up(Fraction(value)) == expected


@given(CENTS)
def test_lines_are_rounded_as_decimal_rounds_half_up(value):
    assert half_up(Fraction(value)) == int(value.quantize(Decimal(1), rounding=ROUND_HALF_UP))


@given(CENTS)
def test_what_is_shown_a_kilogram_is_rounded_as_decimal_rounds_to_the_ceiling(value):
    assert rounded_up(Fraction(value)) == int(value.quantize(Decimal(1), rounding=ROUND_CEILING))
    assert rounded_up(-Fraction(value)) == -int(value)


@given(CENTS, st.integers(1, 9), st.integers(0, 10**6))
def test_a_line_is_its_quantity_at_its_rate_rounded_once(each, count, rate):
    line = cost_line(
        code="levy", for_each=Fraction(each), count=count, unit="kg", rate=rate, priced_on=date(2026, 1, 2)
    )
    expected = (each * count * rate).quantize(Decimal(1), rounding=ROUND_HALF_UP)
    assert line.amount_minor == int(expected)
    assert line.quantity == Fraction(each) * count


def test_no_float_slips_into_a_line():
    with pytest.raises(AttributeError):
        cost_line(code="levy", for_each="0.1", unit="kg", rate=5, priced_on=None)
    with pytest.raises(AttributeError):
        half_up(0.5)
