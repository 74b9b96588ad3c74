"""Days on which something of a timetable feed runs, and the dated weekdays that say the same.

A feed says: these weekdays between two days, but not on these dates, and also on those. Our timetables know
weekdays and the days between which they count; a date apart becomes a timetable of that one day.
"""

from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import pairwise

DAY = timedelta(days=1)


@dataclass(frozen=True)
class Service:
    """Weekdays (0 is Monday) from a first to a last day, both counted; none where only dates are named."""

    weekdays: frozenset = frozenset()
    first: date | None = None
    last: date | None = None
    added: frozenset = frozenset()
    removed: frozenset = frozenset()

    def moved(self, days):
        """The same so many days later, as what leaves after midnight runs."""
        step = timedelta(days=days)
        return Service(
            frozenset((day + days) % 7 for day in self.weekdays),
            self.first and self.first + step,
            self.last and self.last + step,
            frozenset(day + step for day in self.added),
            frozenset(day + step for day in self.removed),
        )


@dataclass(frozen=True)
class Period:
    """Weekdays that count from `begins` until before `ends`."""

    begins: date
    ends: date
    weekdays: frozenset


def periods(services):
    """Periods, in order and none twice, in which at least one of these services runs on the same days."""
    spans = [span for service in services for span in spans_of(service)]
    apart = {day for span in spans for day in span.added | span.removed}
    cuts = {span.first for span in spans} | {span.last + DAY for span in spans}
    cuts |= apart | {day + DAY for day in apart}
    found = []
    for begins, ends in pairwise(sorted(cuts)):
        weekdays = frozenset().union(*(running(span, begins, begins in apart) for span in spans))
        goes_on = found and found[-1].ends == begins and found[-1].weekdays == weekdays
        if goes_on and any(span.first < begins <= span.last for span in spans):
            found[-1] = replace(found[-1], ends=ends)
        elif weekdays:
            found.append(Period(begins, ends, weekdays))
    return found


def running(span, day, is_apart):
    """Weekdays on which a span runs from a day on; on a date apart, only whether it runs on that one."""
    runs = span.weekdays if span.first <= day <= span.last else frozenset()
    if not is_apart:
        return runs
    is_on = day in span.added or (day not in span.removed and day.weekday() in runs)
    return frozenset([day.weekday()]) if is_on else frozenset()


def spans_of(service):
    """A service as services that all have weekdays: where only dates are named, as few as say the same."""
    if service.first is not None:
        return [service]
    return [Service(weekdays, first, last) for first, last, weekdays in runs_of(service.added)]


def runs_of(days):
    """(first, last, weekdays) that cover just these dates: each run as long as its weekdays repeat."""
    left = sorted(days)
    while left:
        first = left[0]
        end = first_break(first, left[-1], set(left))
        within = [day for day in left if day < end]
        yield first, within[-1], frozenset(day.weekday() for day in within)
        left = left[len(within) :]


def first_break(first, last, days):
    """The first day after a week that is not as the same weekday a week before it; else the day after all."""
    day = first + 7 * DAY
    while day <= last:
        if (day in days) != (day - 7 * DAY in days):
            return day
        day += DAY
    return last + DAY
