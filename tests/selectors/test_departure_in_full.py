"""One departure with everything behind it, told of one piece."""

from dataclasses import replace

import numpy as np
import pytest

from coop.engines.ambient import Carries
from coop.selectors.departure_in_full import departure_in_full
from coop.selectors.departures import departures_for
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.scene import trade
from tests.selectors.asking import question

pytestmark = pytest.mark.django_db


@pytest.fixture
def full():
    asked = question(trade(CooperativeFactory()))
    (departure,) = departures_for(asked)
    return departure_in_full(asked, departure.key)


def test_the_stops_lead_from_the_taxi_park_to_the_buyer(full):
    first, last = full.stops[0], full.stops[-1]
    assert (first.arrives_at, first.km) == (None, 0.0)
    assert first.leaves_at == full.departure.slot.departs_at
    assert last.leaves_at is None
    assert last.km > 0
    instants = [at for stop in full.stops for at in (stop.arrives_at, stop.leaves_at) if at]
    assert instants == sorted(instants)
    assert last.carries in (Carries.SHADE, Carries.SUN)


def test_the_curves_begin_as_closed_and_the_cautious_one_is_never_colder_at_the_end(full):
    curves = full.curves
    assert curves.hours[0] == 0
    assert curves.best.mean[0] == pytest.approx(-18.0, abs=1e-3)
    chosen = curves.limits[0]
    assert chosen.is_chosen
    assert chosen.cautious_h is not None
    assert chosen.best_h is None or chosen.best_h >= chosen.cautious_h
    assert len(curves.air) >= len(curves.hours) - 1


def test_the_warmest_curve_is_that_of_a_twentieth_whatever_the_limit_lets_soften():
    asked = question(trade(CooperativeFactory()))
    warmest = []
    for limit in (0.05, 0.3):
        one = replace(asked, limit_value=limit)
        (departure,) = departures_for(one)
        warmest.append(departure_in_full(one, departure.key).curves.best.warmest)
    np.testing.assert_array_equal(*warmest)


def test_the_sheet_the_ladder_and_the_bill_speak_of_the_same_carton(full):
    assert full.sheet.load.mass == pytest.approx(80.0)
    assert full.sheet.design == full.departure.design
    rung = next(rung for rung in full.ladder if rung.mass == 80)
    assert rung.total == full.departure.bill.cost.total
