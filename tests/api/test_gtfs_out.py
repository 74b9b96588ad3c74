"""Our timetables as a feed: sound by our reader of the reference, and the same once they come in again."""

from datetime import date, time
from io import BytesIO
from zipfile import ZipFile

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from api.gtfs_departures import departures_of
from api.gtfs_feed import Window, feed_of
from api.gtfs_out import feed_bytes
from coop.models import Timetable
from coop.models.timetables import WEEKDAYS
from coop.selectors.timetables import timetables_in_full
from coop.services.gtfs import Figures, take_in_feed
from tests.api.files import Files, everything, full_trade
from tests.api.packing_scene import NOW, clock
from tests.factories.timetables import TimetableFactory

__all__ = ["clock"]
ADDRESS = "https://example.org/"


@pytest.fixture
def trade(clock, ours_trading):
    return full_trade(ours_trading)


@pytest.fixture
def files(manager, trade):
    return Files(manager)


def packed(trade):
    return feed_bytes(trade.cooperative, timetables_in_full(trade.cooperative), ADDRESS)


def text(trade, name):
    return ZipFile(BytesIO(packed(trade))).read(name).decode().split("\r\n")


def taken_again(files, trade):
    """Counts of what changes when each carrier's timetables of each route come in again."""
    found, content = [], files.fetch("gtfs")
    for row in Timetable.objects.of(trade.cooperative).values("route__slug", "carrier").order_by().distinct():
        slug, carrier = row["route__slug"], row["carrier"]
        status, body = files.feed(
            content,
            route=slug,
            carrier=carrier,
            from_stop=trade.route.origin.code,
            trips=f"{slug}-{carrier}",
            dry_run="no",
        )
        assert status == 200, body
        found.append(body["counts"])
    return found


def test_it_is_sound_by_the_reference(trade):
    feed = feed_of(packed(trade))
    assert len(feed.trips) == 2
    assert feed.zone == trade.cooperative.time_zone


def test_one_that_leaves_when_full_is_a_window_and_no_timepoint(trade):
    """Ten seats at six riders an hour take 6000 s. frequencies: exact_times 0; stop_times: timepoint 0."""
    feed = feed_of(packed(trade))
    filling = Timetable.objects.get(leaves_when_full=True)
    assert feed.windows[f"timetable-{filling.pk}"] == [Window(2, 25_200, 31_200, 6000, False)]
    lines = [line for line in text(trade, "stop_times.txt") if line.startswith(f"timetable-{filling.pk},")]
    assert all(line.endswith(",0") for line in lines)
    assert [line for line in text(trade, "stop_times.txt") if line.endswith(",1")] != []


def test_the_last_day_of_a_service_is_the_day_before_it_no_longer_counts(trade):
    trade.timetable.valid_until = date(2026, 7, 1)
    trade.timetable.save()
    line = next(
        line for line in text(trade, "calendar.txt") if line.startswith(f"timetable-{trade.timetable.pk},")
    )
    assert line.endswith(",1,1,1,1,1,1,1,20250101,20260630")


def test_out_and_in_again_changes_nothing(files, trade):
    before = everything()
    assert taken_again(files, trade) == [{"new": 0, "changed": 0, "same": 2}]
    assert everything() == before


def test_the_same_rows_make_the_same_bytes(trade):
    assert packed(trade) == packed(trade)


def test_without_any_timetable_it_is_sound_and_empty(trade):
    Timetable.objects.all().delete()
    assert feed_of(packed(trade)).trips == {}


def test_where_hardly_anybody_comes_the_window_is_a_day_long(trade):
    Timetable.objects.filter(leaves_when_full=True).update(seats_left=200, riders_per_hour=0.01)
    ((window,),) = [found for found in feed_of(packed(trade)).windows.values() if found]
    assert window.ends - window.begins == window.headway == 24 * 3600


figures = st.fixed_dictionaries(
    {
        "departs_at_local": st.times().map(lambda it: it.replace(microsecond=0)),
        "leaves_when_full": st.booleans(),
        "seats_left": st.integers(1, 200),
        "riders_per_hour": st.floats(0.01, 500),
        "delay_hours_mean": st.floats(0, 72),
        "delay_hours_cv": st.floats(0, 5),
        "valid_from": st.dates(date(2026, 3, 1), date(2026, 12, 31)),
        "days": st.integers(1, 400) | st.none(),
        "weekdays": st.sets(st.sampled_from(WEEKDAYS), min_size=1),
    }
)


def same_again(trade, carrier, manager):
    """Counts of what would change when the feed of our timetables came in again for a carrier."""
    route = trade.route
    departures = departures_of(
        feed_of(packed(trade)), route=f"{route.slug}-{carrier.pk}", stop=route.origin.code, figures=Figures()
    )
    whose = {"by": manager, "carrier": carrier, "route": route}
    return take_in_feed(**whose, departures=departures, dry_run=True, now=NOW).counts


@settings(max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(rows=st.lists(figures, min_size=1, max_size=4, unique_by=lambda it: it["departs_at_local"]))
def test_whatever_a_timetable_is_it_comes_back_to_the_last_bit(trade, manager, rows):
    Timetable.objects.all().delete()
    for row in rows:
        days, weekdays = row["days"], row["weekdays"]
        until = days and date.fromordinal(row["valid_from"].toordinal() + days)
        columns = {name: value for name, value in row.items() if name not in ("days", "weekdays")}
        columns |= {name: name in weekdays for name in WEEKDAYS} | {"valid_until": until}
        TimetableFactory(cooperative=trade.cooperative, carrier=trade.carrier, route=trade.route, **columns)
    assert same_again(trade, trade.carrier, manager) == {"new": 0, "changed": 0, "same": len(rows)}


def test_hours_past_midnight_are_on_the_road_and_not_of_the_departure(trade):
    trade.timetable.departs_at_local = time(23, 30)
    trade.timetable.save()
    visits = feed_of(packed(trade)).visits[f"timetable-{trade.timetable.pk}"]
    assert visits[0].departs == 84_600
    assert visits[-1].arrives > 86_400
