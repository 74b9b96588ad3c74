"""What must hold for any carton, with no source needed: better keeping never shortens the hold."""

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from coop.engines.conduction import Follow
from tests.engines.conduction_cases import common_carton, hold_hours, warm

CONDUCTIVITY = st.floats(0.05, 0.13)
START = st.floats(-30.0, -8.0)
OUTSIDE = st.floats(12.0, 45.0)
few = settings(max_examples=25, deadline=None, derandomize=True)
"""Enough to meet every mixture of the ranges, few enough for a run of seconds."""


def hold(**case):
    carton = common_carton(**case.pop("carton", {}))
    return hold_hours(warm(carton, hours=200, follow=Follow(stop_at=0.06), **case))[0]


@few
@given(start=START, colder=st.floats(0.5, 10.0), outside=OUTSIDE, conductivity=CONDUCTIVITY)
def test_a_colder_start_never_shortens_the_hold(start, colder, outside, conductivity):
    case = {"outside": outside, "conductivity": conductivity}
    assert hold(start=start - colder, **case) >= hold(start=start, **case)


@few
@given(start=START, cooler=st.floats(0.5, 15.0), outside=OUTSIDE, conductivity=CONDUCTIVITY)
def test_cooler_weather_never_shortens_the_hold(start, cooler, outside, conductivity):
    case = {"start": start, "conductivity": conductivity}
    assert hold(outside=outside - cooler, **case) >= hold(outside=outside, **case)


@few
@given(start=START, better=st.floats(0.02, 0.5), outside=OUTSIDE, conductivity=CONDUCTIVITY)
def test_better_insulation_never_shortens_the_hold(start, better, outside, conductivity):
    case = {"start": start, "outside": outside}
    assert hold(conductivity=conductivity * (1 - better), **case) >= hold(conductivity=conductivity, **case)


@few
@given(start=START, thicker=st.floats(0.005, 0.05), outside=OUTSIDE, wall=st.floats(0.05, 0.12))
def test_a_thicker_wall_around_the_same_room_never_shortens_the_hold(start, thicker, outside, wall):
    def around(thickness):
        size = {"outer_length": 0.79, "outer_width": 0.49, "outer_height": 0.49}
        outer = {name: side + 2 * (thickness + 0.005) for name, side in size.items()}
        return {"insulation": (thickness,) * 6, **outer}

    case = {"start": start, "outside": outside}
    assert hold(carton=around(wall + thicker), **case) >= hold(carton=around(wall), **case)


@few
@given(start=START, outside=OUTSIDE, conductivity=CONDUCTIVITY)
def test_fish_only_warms_in_warm_air(start, outside, conductivity):
    curves = warm(common_carton(), start=start, outside=outside, conductivity=conductivity, hours=120)
    assert np.all(np.diff(curves.heat_stored[0]) > 0)
    assert np.all(np.diff(curves.mean[0]) > -1e-9)
    assert np.all(np.diff(curves.softened_share[0]) > -1e-9)
