"""A feed of 100 000 stop times, read whole, and one of its routes taken in: at most 60 s and 1 GB."""

import time
import tracemalloc

import pytest

from api.gtfs_departures import departures_of
from api.gtfs_feed import clock_text, feed_of
from coop.services.gtfs import Figures, take_in_feed
from tests.api.feeds import FILES, zipped
from tests.benchmarks.figures import peak_memory_mb, show
from tests.services.packing_day import NOW, packing_day

TRIPS, STOPS = 2000, 50
ROUTES = 40
UNKNOWN = Figures()


def large_feed():
    """TRIPS trips of STOPS stops on ROUTES routes, each trip a minute of the day after the one before."""
    stops = "".join(f"s{n},Stop {n},-8.{n:03d},31.1,,\n" for n in range(STOPS))
    routes = "".join(f"r{n},lake,,Route {n},3\n" for n in range(ROUTES))
    trips = "".join(f"r{n % ROUTES},weekdays,t{n},0\n" for n in range(TRIPS))
    times = []
    for trip in range(TRIPS):
        for stop in range(STOPS):
            at = clock_text(trip % 1440 * 60 + stop * 300)
            times.append(f"t{trip},{at},{at},s{stop},{stop},0,1\n")
    return zipped(
        {
            "agency.txt": FILES["agency.txt"],
            "calendar.txt": FILES["calendar.txt"],
            "stops.txt": FILES["stops.txt"].splitlines(keepends=True)[0] + stops,
            "routes.txt": FILES["routes.txt"].splitlines(keepends=True)[0] + routes,
            "trips.txt": FILES["trips.txt"].splitlines(keepends=True)[0] + trips,
            "stop_times.txt": FILES["stop_times.txt"].splitlines(keepends=True)[0] + "".join(times),
        }
    )


@pytest.mark.django_db
def test_a_feed_of_100_000_stop_times():
    content, day = large_feed(), packing_day()
    began = time.perf_counter()
    feed = feed_of(content)
    read = time.perf_counter() - began
    departures = departures_of(feed, route="r0", stop="s0", figures=UNKNOWN)
    whose = {"by": day.manager, "carrier": day.carrier, "route": day.route}
    taken = take_in_feed(**whose, departures=departures, dry_run=False, now=NOW)
    whole = time.perf_counter() - began
    assert sum(map(len, feed.visits.values())) == TRIPS * STOPS
    # At one of these hours the trade has a timetable already.
    assert taken.counts["new"] + taken.counts["changed"] == len({one.seconds for one in departures})
    assert whole <= 60
    assert peak_memory_mb() <= 1024
    show(
        f"feed of 100 000 stop times: read and checked in {read:.1f} s, {len(departures)} departures taken in"
        f" after {whole:.1f} s, peak of the process {peak_memory_mb():.0f} MB; wanted 60 s and 1024 MB"
    )


def test_what_reading_it_takes_of_memory():
    content = large_feed()
    tracemalloc.start()
    feed = feed_of(content)
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert len(feed.trips) == TRIPS
    show(f"of that for the feed itself, at its peak: {peak / 2**20:.0f} MB")
