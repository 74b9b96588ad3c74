import numpy as np
import pytest

from api.warming_curves import CurveOut, curve_of
from coop.engines.conduction import Curves
from coop.selectors.warming_curves import LimitHold, WarmingCurves
from tests.api.test_openapi import differences

NAN = float("nan")


def carton(*core):
    values = np.array(core)
    return Curves(np.arange(len(values)) * 1800.0, values, values, values, values / 100 + 0.2, values, values)


@pytest.fixture
def curves():
    """Four readings, of which the better carton was followed for three and the poorer one for two."""
    return WarmingCurves(
        hours=np.array([0.0, 0.5, 1.0, 1.5]),
        best=carton(-18.0, -17.504, -16.0, NAN),
        cautious=carton(-18.0, -16.0, NAN, NAN),
        air=np.array([30.0, 29.0, 28.0]),
        outside=np.array([[1.0, 1.0, 1.0, 1.0, 2.0, 3.0]] * 3),
        nights=((2.0, 14.25),),
        limits=(LimitHold("core_c", -16.5, 0.96, None, True),),
    )


def test_a_curve_has_exactly_what_is_described(curves):
    assert differences(CurveOut(), curve_of(curves)) == []


def test_a_curve_ends_with_the_last_carton_that_was_followed(curves):
    shown = curve_of(curves)
    assert shown["hours"] == [0.0, 0.5, 1.0]
    assert shown["best"]["core_c"] == [-18.0, -17.5, -16.0]
    assert shown["cautious"]["core_c"] == [-18.0, -16.0, None]


def test_the_weather_after_the_last_interval_is_that_of_the_last(curves):
    shown = curve_of(curves)
    assert (shown["air_c"], shown["side_c"]) == ([30.0, 29.0, 28.0], [1.0, 1.0, 1.0])
    assert (shown["bottom_c"], shown["top_c"]) == ([2.0, 2.0, 2.0], [3.0, 3.0, 3.0])
    longer = curve_of(WarmingCurves(**{**curves.__dict__, "best": carton(-18.0, -17.0, -16.0, -15.0)}))
    assert longer["air_c"] == [30.0, 29.0, 28.0, 28.0]


def test_what_softens_is_rounded_up_and_what_holds_down(curves):
    shown = curve_of(curves)
    assert shown["best"]["softened_share"][1] == 0.025
    assert shown["limits"] == [
        {"kind": "core_c", "value": -16.5, "hold_best_h": 0.9, "hold_cautious_h": None, "chosen": True}
    ]
