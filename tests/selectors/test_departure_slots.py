"""Planned departures, and the stored figures as the engines meet them."""

from dataclasses import replace
from datetime import datetime, timedelta

import numpy as np
import pytest

from coop.errors import Invalid
from coop.models import Climate, Leg, ReceivingHours
from coop.selectors.departure_slots import (
    digest,
    draws_of,
    receiving_of,
    refusal_of,
    rows_of,
    slots_of,
    weather_around,
)
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.scene import trade
from tests.selectors.asking import MONDAY, question

pytestmark = pytest.mark.django_db


@pytest.fixture
def ours():
    return trade(CooperativeFactory())


def slot_of(asked):
    rows = rows_of(asked)
    return rows, slots_of(asked, rows)[0]


def test_departures_come_on_the_days_of_the_timetable_and_while_it_counts(ours):
    for day in ("tuesday", "thursday"):
        setattr(ours.timetable, day, False)
    ours.timetable.valid_until = MONDAY + timedelta(days=5)
    ours.timetable.save()
    asked = question(ours, days=14)
    assert [slot.departs_at.weekday() for slot in slots_of(asked, rows_of(asked))] == [0, 2, 4]


def test_a_carton_is_closed_just_in_time(ours):
    _, slot = slot_of(question(ours))
    assert slot.wait == 40 * 60


def test_a_carton_that_cannot_make_it_is_refused(ours):
    asked = question(ours)
    _, slot = slot_of(asked)
    assert refusal_of(asked, slot) is None
    assert refusal_of(replace(asked, closes_at=slot.departs_at), slot) == "misses_departure"
    assert (
        refusal_of(replace(asked, closes_at=slot.departs_at - timedelta(days=5)), slot) == "closed_too_early"
    )
    assert refusal_of(replace(asked, closes_at=slot.departs_at - timedelta(days=2)), slot) is None


def test_draws_are_the_same_each_time_and_more_than_20_000(ours):
    asked = question(ours)
    rows, slot = slot_of(asked)
    once, again = (draws_of(asked, rows, slot.timetable)[0] for _ in range(2))
    assert len(once.travel) >= 20_000
    for one, other in zip(once, again, strict=True):
        np.testing.assert_array_equal(one, other)
    assert abs(once.deviation.mean()) < 1e-3
    assert once.deviation.std() == pytest.approx(1, abs=0.01)
    assert abs(np.corrcoef(once.travel, once.deviation)[0, 1]) < 0.02


def test_a_journey_keeps_the_climate_of_the_month_of_its_departure(ours):
    asked = replace(question(ours), first_day=MONDAY - timedelta(days=2), last_day=MONDAY - timedelta(days=2))
    rows, slot = slot_of(asked)
    assert slot.departs_at.month == 2
    weather, closing = weather_around(asked, rows, slot)
    february = {row.place_id: row.temperature_max_c for row in Climate.objects.filter(month=2)}
    for place, maximum in zip(rows.places, weather.maximum, strict=True):
        assert set(maximum) == {february[place.pk]}
    assert 0 <= closing < weather.maximum.shape[1] * 86400


def test_receiving_hours_count_from_closing(ours):
    ReceivingHours.objects.create(buyer=ours.buyer, weekday=1, opens_at="08:00", closes_at="12:00")
    asked = question(ours)
    rows, slot = slot_of(asked)
    receiving = receiving_of(asked, rows, slot)
    opens = slot.closes_at + timedelta(seconds=float(receiving.opens[0]))
    assert (opens.weekday(), opens.hour) == (1, 8)
    assert receiving.closes[0] - receiving.opens[0] == 4 * 3600
    assert receiving.deadline == np.inf
    by = replace(asked, deliver_by=slot.closes_at + timedelta(hours=7))
    assert receiving_of(by, rows, slot).deadline == 7 * 3600


def test_a_buyer_without_hours_is_always_there(ours):
    rows, slot = slot_of(question(ours))
    receiving = receiving_of(question(ours), rows, slot)
    assert (receiving.opens[0] < 0, receiving.closes[0]) == (True, np.inf)


def test_a_route_without_legs_or_climate_gets_a_clear_refusal(ours):
    Climate.objects.filter(place=ours.route.origin, month=3).delete()
    asked = question(ours)
    rows, slot = slot_of(asked)
    with pytest.raises(Invalid, match="no climate for month 3"):
        weather_around(asked, rows, slot)
    Leg.objects.all().delete()
    with pytest.raises(Invalid, match="no legs"):
        rows_of(question(ours))


def test_a_key_changes_with_every_figure_and_with_nothing_else(ours):
    asked = question(ours)
    assert digest(asked, rows_of(asked)) == digest(question(ours), rows_of(question(ours)))
    other = replace(asked, mass_kg=80.5)
    assert digest(asked) != digest(other)
    before = digest(rows_of(asked))
    Leg.objects.update(hours_mean=9.0)
    assert digest(rows_of(question(ours))) != before
    assert isinstance(asked.first_day, type(datetime(2026, 1, 1).date()))
