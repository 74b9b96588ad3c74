"""Curves against limits, with nights where the sun is down."""

import numpy as np
import pytest

from coop.selectors.warming_curves import LIMITS, limits_of, nights_of, one_of
from tests.engines.conduction_cases import common_carton, warm
from tests.engines.test_ambient import weather


def curves():
    both = warm(common_carton(), start=[-18.0, -18.0], conductivity=[0.07, 0.09], hours=96)
    return one_of(both, 0), one_of(both, 1)


def test_every_limit_has_its_hold_the_chosen_one_first():
    best, cautious = curves()
    found = limits_of(best, cautious, ("core_c", -10.0))
    assert (found[0].kind, found[0].value, found[0].is_chosen) == ("core_c", -10.0, True)
    assert len(found) == len(LIMITS) + 1
    assert sum(limit.is_chosen for limit in found) == 1
    for limit in found:
        if None not in (limit.best_h, limit.cautious_h):
            assert limit.cautious_h <= limit.best_h


def test_a_chosen_limit_of_the_list_stands_once():
    assert len(limits_of(*curves(), ("softened_share", 0.05))) == len(LIMITS)


def test_a_limit_that_is_never_passed_has_no_hold():
    best, cautious = curves()
    found = {(limit.kind, limit.value): limit for limit in limits_of(best, cautious, ("core_c", -0.9))}
    assert found["core_c", -0.9].best_h is None


def test_nights_lie_between_sunset_and_sunrise_of_the_place():
    """Near the equator the sun is down for about twelve hours, from about 18 to 6 o'clock local time."""
    nights = nights_of(weather(days=5), 12 * 3600.0, 72 * 3600.0)
    assert len(nights) == 3
    for down, up in nights:
        assert up - down == pytest.approx(12, abs=0.8)
        assert (12 + down) % 24 == pytest.approx(18, abs=0.6)


def test_a_run_that_begins_and_ends_at_night_has_nights_at_both_ends():
    nights = nights_of(weather(days=3), 0.0, 24 * 3600.0)
    assert (nights[0][0], nights[-1][1]) == (0.0, 24.0)
    assert np.all(np.diff(np.ravel(nights)) > 0)
