"""A carton that stays where it is: the hold in any weather, for several limits."""

from dataclasses import replace

import pytest

from coop.engines.ambient import Carries
from coop.engines.fish import Flesh
from coop.selectors.hold import Surroundings, hold_curves, packed_of
from tests.engines.conduction_cases import common_carton

COD = Flesh(0.803, 0.18, 0.006, 0.011)
MILD = Surroundings(24.0, 12.0, 0.3, -8.8, 31.1, 288, 7200.0, Carries.SHADE, 0.0, 16.0)


def held(around=MILD, *, start=-18.0, carton=None, confidence=0.95, mass=100.0):
    packed = packed_of(
        carton or common_carton(), mass, COD, start_temperature_c=start, conductivity_cv=0.25,
        limit=("softened_share", 0.05),
    )  # fmt: skip
    return hold_curves(packed, around, confidence=confidence).limits[0]


def test_hotter_days_sun_and_warmer_fish_shorten_the_hold():
    usual = held()
    for worse in (
        held(replace(MILD, maximum_c=34.0)),
        held(replace(MILD, carries=Carries.SUN)),
        held(start=-12.0),
    ):
        assert worse.best_h < usual.best_h
        assert worse.cautious_h < usual.cautious_h


def test_more_confidence_is_more_cautious_and_the_best_estimate_stays():
    careful, careless = held(confidence=0.99), held(confidence=0.6)
    assert careful.cautious_h < careless.cautious_h < careful.best_h == careless.best_h


def test_what_does_not_fit_is_refused_with_what_would():
    with pytest.raises(ValueError, match=r"at most 100\.\d"):
        held(mass=500.0)
