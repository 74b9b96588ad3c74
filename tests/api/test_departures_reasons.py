from dataclasses import replace
from datetime import datetime, timedelta
from math import inf, isfinite
from types import SimpleNamespace
from zoneinfo import ZoneInfo

import pytest

from api.departures_reasons import REASONS, reason_of
from coop.selectors.standards import Standard

LUSAKA = ZoneInfo("Africa/Lusaka")
CLOSED = datetime(2026, 3, 2, 15, 20, tzinfo=LUSAKA)
HOUR = 3600
STANDARD = Standard(limit_kind="core_c", limit_value=-5.0, confidence=0.95, lead=40 * 60.0)


def departure(code, *, hold=20.04, window=(21.0, 23.0, 27.01), closed_before=None, standard=STANDARD):
    return SimpleNamespace(
        judgement=SimpleNamespace(
            reason=code, hold_cautious=hold * HOUR, window=tuple(hours * HOUR for hours in window)
        ),
        closes_at=CLOSED,
        close_no_earlier_than=closed_before,
        latest_safe_departure=CLOSED + timedelta(minutes=45),
        slot=SimpleNamespace(departs_at=CLOSED + timedelta(minutes=30), standard=standard),
        after_closing=lambda s: CLOSED + timedelta(seconds=s) if isfinite(s) else None,
    )


QUESTION = SimpleNamespace(
    zone=LUSAKA,
    deliver_by=CLOSED + timedelta(hours=20),
    start_temperature_c=-4.0,
    buyer=SimpleNamespace(name="The market"),
)


def words(*arguments, **changes):
    return reason_of(departure(*arguments, **changes), QUESTION)["words"]


def test_a_safe_departure_has_no_reason():
    assert reason_of(departure(None), QUESTION) is None


@pytest.mark.parametrize(
    ("code", "sentence"),
    [
        (
            "hold_too_short",
            "The carton surely holds only 20 h; the fish may need 27.1 h to the buyer's freezer.",
        ),
        (
            "arrives_after_deadline",
            "The fish may be handed over only at 2026-03-03 18:21; it is wanted by 2026-03-03 11:20.",
        ),
        (
            "closed_too_early",
            "Closed at 2026-03-02 15:20 the carton stands too long before it leaves.",
        ),
        (
            "buyer_closed",
            "The market may be shut when the fish comes, so that it waits outside until 2026-03-03 18:21.",
        ),
        (
            "start_too_warm",
            "Fish at -4 °C is too warm to travel: its middle reaches -5 °C at once.",
        ),
        ("may_leave_late", "It often leaves late: safe only if it leaves by 2026-03-02 16:05."),
        (
            "misses_departure",
            "Closed at 2026-03-02 15:20 the carton is beside the vehicle 40 minutes later; "
            "this one leaves at 2026-03-02 15:50.",
        ),
    ],
)
def test_each_reason_is_a_sentence_with_its_figures(code, sentence):
    assert words(code) == sentence


def test_every_reason_that_there_is_has_words():
    assert set(REASONS) == {
        "hold_too_short",
        "arrives_after_deadline",
        "closed_too_early",
        "buyer_closed",
        "start_too_warm",
        "may_leave_late",
        "misses_departure",
    }


@pytest.mark.parametrize("code", ["hold_too_short", "arrives_after_deadline", "buyer_closed"])
def test_fish_that_is_not_taken_in_for_days_has_no_hour(code):
    reason = reason_of(departure(code, window=(21.0, inf, inf)), QUESTION)
    assert reason["values"]["arrives_until"] is None
    assert "None" not in reason["words"]


def test_a_carton_that_holds_for_most_trips_is_not_said_to_be_shorter_than_they_are():
    assert words("hold_too_short", hold=28.0) == (
        "The carton surely holds only 28 h; too often the fish needs longer than that."
    )


def test_the_hour_from_which_it_may_be_closed_is_named_where_there_is_one():
    early = words("closed_too_early", closed_before=CLOSED + timedelta(hours=3))
    assert early.endswith("close it no earlier than 2026-03-02 18:20.")


def test_figures_are_given_with_their_units():
    assert reason_of(departure("hold_too_short"), QUESTION)["values"] == {
        "hold_cautious_h": 20.0,
        "needed_h": 27.1,
        "arrives_until": "2026-03-03T18:21:00+02:00",
    }


@pytest.mark.parametrize("kind", ["softened_share", "core_c", "mean_c", "warmest_c"])
def test_every_limit_has_words(kind):
    held_to = replace(STANDARD, limit_kind=kind)
    assert "-5" in words("start_too_warm", standard=held_to)
