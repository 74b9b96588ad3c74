"""Rows become what the engines take, number by number."""

from datetime import date, timedelta

import numpy as np
import pytest

from coop.engines.carton import shavings_conductivity
from coop.models import DayWeather
from coop.selectors.engine_inputs import (
    carton_of,
    flesh_of,
    legs_of_journey,
    lognormal_sigma,
    weather_of,
)
from coop.selectors.places import places
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.scene import trade

pytestmark = pytest.mark.django_db


@pytest.fixture
def ours():
    return trade(CooperativeFactory())


def test_a_carton_keeps_its_sizes_and_knows_shavings_by_their_density(ours):
    design = ours.design
    carton = carton_of(design)
    assert (carton.outer_length, carton.outer_width) == (design.outer_length_m, design.outer_width_m)
    assert carton.insulation[5] == design.insulation_top_m
    assert carton.insulation_conductivity == shavings_conductivity(design.insulation_density_kg_m3)
    design.insulation_conductivity_w_m_k = 0.055
    assert carton_of(design).insulation_conductivity == 0.055


def test_flesh_keeps_its_shares(ours):
    flesh = flesh_of(ours.species)
    assert (flesh.water, flesh.freezing_point) == (ours.species.water_share, ours.species.freezing_point_c)


def test_hours_of_legs_become_seconds(ours):
    (leg,) = ours.route.legs.all()
    (found,) = legs_of_journey([leg])
    assert (found.mean, found.floor) == (leg.hours_mean * 3600, leg.hours_floor * 3600)
    assert found.stop_mean == leg.stop_hours_mean * 3600


def test_the_spread_of_a_logarithm_is_that_of_the_lognormal():
    sample = np.exp(lognormal_sigma(0.25) * np.random.default_rng(1).standard_normal(400_000))
    assert sample.std() / sample.mean() == pytest.approx(0.25, rel=0.01)


def test_entered_weather_stands_in_for_the_climate_and_observed_for_forecast(ours):
    place = places().get(pk=ours.route.origin.pk)
    first = date(2026, 3, 2)
    rows = [
        DayWeather(
            place=place, date=first + timedelta(days=1), temperature_max_c=40, temperature_min_c=30, kind=kind
        )
        for kind in ("forecast", "observed")
    ]
    rows[1].temperature_max_c, rows[1].cloud_share = 41, 0.9
    found = weather_of([place], first_day=first, days=3, month=3, day_weathers=rows, zone="Africa/Lusaka")
    climate = place.climates.get(month=3)
    assert list(found.maximum[0]) == [climate.temperature_max_c, 41, climate.temperature_max_c]
    assert list(found.cloud_share[0]) == [climate.cloud_share, 0.9, climate.cloud_share]
    assert found.zone_offset == 7200
