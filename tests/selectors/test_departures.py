"""Departures as a person asks for them: the answer moves the way the fish would."""

from dataclasses import replace
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from coop.errors import Invalid, NotFound
from coop.models import DayWeather
from coop.selectors import departure_judgement, thermal_runs
from coop.selectors.departures import departure_named, departures_for, rounded
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.scene import trade
from tests.selectors.asking import MONDAY, question

pytestmark = pytest.mark.django_db
LEG = {"hours_mean": 16.0, "hours_floor": 12.0, "hours_cv": 0.4}


@pytest.fixture
def long_way():
    """A day's journey: neither safe for every carton nor for none."""
    return trade(CooperativeFactory(), leg=LEG)


def one(asked):
    (found,) = departures_for(asked)
    return found


def test_a_colder_start_is_never_less_likely_hard_and_may_leave_later(long_way):
    cold, mild = (one(question(long_way, start_temperature_c=t)) for t in (-25.0, -15.0))
    assert cold.judgement.chance_hard > mild.judgement.chance_hard
    assert cold.judgement.hold_cautious > mild.judgement.hold_cautious
    assert cold.judgement.expected_softened_share < mild.judgement.expected_softened_share
    assert cold.bill.cost.per_kilogram <= mild.bill.cost.per_kilogram


def test_a_safe_departure_may_leave_later_and_an_unsafe_one_says_why(long_way):
    asked = question(long_way, start_temperature_c=-28.0)
    safe, unsafe = one(asked), one(replace(asked, start_temperature_c=-8.0))
    assert safe.is_safe
    assert safe.latest_safe_departure >= safe.slot.departs_at
    assert safe.close_no_earlier_than <= safe.closes_at
    assert safe.judgement.margin >= 0
    assert not unsafe.is_safe
    assert unsafe.judgement.reason == "hold_too_short"
    assert unsafe.judgement.margin <= 0
    assert unsafe.latest_safe_departure is None or unsafe.latest_safe_departure < unsafe.slot.departs_at


def test_a_higher_confidence_never_allows_a_later_hour(long_way):
    asked = question(long_way, start_temperature_c=-25.0)
    hours = [one(replace(asked, confidence=p)).judgement.latest_departure for p in (0.6, 0.8, 0.9, 0.97)]
    assert hours == sorted(hours, reverse=True)


def test_the_chance_by_hour_of_leaving_never_rises(long_way):
    chances = [chance for _, chance in one(question(long_way, start_temperature_c=-25.0)).judgement.chances]
    assert chances == sorted(chances, reverse=True)


def test_hot_days_that_somebody_entered_count(long_way):
    before = one(question(long_way))
    for place in (long_way.route.origin, long_way.route.destination):
        for day in range(3):
            DayWeather.objects.create(
                cooperative=long_way.cooperative,
                place=place,
                date=MONDAY + timedelta(days=day),
                temperature_max_c=45.0,
                temperature_min_c=35.0,
                kind="forecast",
            )
    assert one(question(long_way)).judgement.chance_hard < before.judgement.chance_hard


def test_a_carton_closed_too_early_or_too_late_is_refused_with_a_reason(long_way):
    zone = ZoneInfo(long_way.cooperative.time_zone)
    departs = one(question(long_way)).slot.departs_at
    cold = question(long_way, start_temperature_c=-28.0)
    early = one(replace(cold, closes_at=departs - timedelta(hours=30)))
    far_too_early = one(replace(cold, closes_at=departs - timedelta(days=6)))
    late = one(replace(cold, closes_at=departs - timedelta(minutes=1)))
    assert [row.judgement.reason for row in (early, far_too_early, late)] == [
        "closed_too_early",
        "closed_too_early",
        "misses_departure",
    ]
    assert early.close_no_earlier_than > early.closes_at
    assert late.judgement.chance_hard == 0
    assert datetime.now(zone).tzinfo == departs.tzinfo


def test_delivery_by_an_hour_that_cannot_be_kept_is_unsafe(long_way):
    departs = one(question(long_way)).slot.departs_at
    asked = question(long_way, start_temperature_c=-30.0, deliver_by=departs + timedelta(hours=3))
    assert one(asked).judgement.reason == "arrives_after_deadline"


def test_few_runs_promise_no_later_hour_than_many(long_way, monkeypatch):
    """Waits, walls and trips that are run four times as close: what is promised of few holds."""
    asked = [question(long_way, start_temperature_c=t) for t in (-20.0, -24.0, -28.0)]
    few = [one(row).judgement for row in asked]
    monkeypatch.setattr(thermal_runs, "WAITS_AFTER", np.arange(0, 30, 2.0) * 3600)
    monkeypatch.setattr(thermal_runs, "WAITS_BEFORE", np.arange(0, 30, 2.0) * 3600)
    monkeypatch.setattr(thermal_runs, "FAR_TRAVEL", slice(None))
    monkeypatch.setattr(thermal_runs, "FAR_DEVIATIONS", np.array([-1.0, 0.0, 0.5, 1.0, 1.5, 2.0, 2.5, 3.5]))
    dense = np.array([-2.0, -1.0, 0.0, 0.5, 1.0, 1.5, 2.0, 2.5, 3.5])
    for module in (thermal_runs, departure_judgement):
        monkeypatch.setattr(module, "DEVIATIONS", dense)
    monkeypatch.setattr(thermal_runs, "FINE_DEVIATIONS", np.linspace(-3.5, 4, 61))
    monkeypatch.setattr(departure_judgement, "KEPT", 1.0)
    # The same question again would be answered from memory: a wall known a little better asks anew.
    many = [one(replace(row, limit_value=0.0500001)).judgement for row in asked]
    for rough, close in zip(few, many, strict=True):
        assert rough.latest_departure <= close.latest_departure + 300
        assert rough.closed_before_departure <= close.closed_before_departure + 300
        assert rough.chance_hard == pytest.approx(close.chance_hard, abs=0.03)
        assert rough.chance_hard <= close.chance_hard + 0.003


def test_the_same_question_is_answered_from_memory_until_a_figure_changes(long_way, monkeypatch):
    first = departures_for(question(long_way))
    monkeypatch.setattr("coop.selectors.departures.hold_tables", None)
    assert departures_for(question(long_way))[0].judgement == first[0].judgement
    long_way.design.insulation_density_kg_m3 += 1
    long_way.design.save()
    with pytest.raises(TypeError):
        departures_for(question(long_way))


def test_departures_of_one_month_share_their_runs(long_way, monkeypatch):
    runs = []
    real = thermal_runs.hold_tables
    monkeypatch.setattr(
        "coop.selectors.departures.hold_tables", lambda *a, **k: runs.append(1) or real(*a, **k)
    )
    assert len(departures_for(question(long_way, days=14))) == 14
    assert len(runs) == 1


def test_one_departure_is_found_by_its_name(long_way):
    asked = question(long_way, days=3)
    wanted = departures_for(asked)[1]
    _, found = departure_named(asked, wanted.key)
    assert found.slot == wanted.slot
    assert found.judgement == wanted.judgement
    for name in ("", "x", "1-20260302", f"999-20260303-{wanted.design.slug}", wanted.key[:-1]):
        with pytest.raises(NotFound):
            departure_named(asked, name)


def test_more_fish_than_a_carton_holds_takes_more_cartons(long_way):
    assert one(question(long_way, mass_kg=150.0)).cartons == 2
    with pytest.raises(Invalid) as refusal:
        one(question(long_way, mass_kg=1.0))
    assert refusal.value.problems[0].field == "mass_kg"


def test_hours_are_rounded_to_the_safe_side():
    at = datetime(2026, 3, 2, 16, 7, 31, tzinfo=ZoneInfo("Africa/Lusaka"))
    assert rounded(at, up=False).strftime("%H:%M:%S") == "16:05:00"
    assert rounded(at, up=True).strftime("%H:%M:%S") == "16:10:00"
    assert rounded(at.replace(minute=5, second=0), up=True).minute == 5
