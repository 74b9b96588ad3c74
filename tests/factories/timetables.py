from datetime import date, time

import factory

from coop.models import Timetable
from tests.factories.carriers import CarrierFactory
from tests.factories.cooperatives import CooperativeFactory
from tests.factories.routes import RouteFactory


class TimetableFactory(factory.django.DjangoModelFactory):
    """Leaves every day at 16:00."""

    class Meta:
        model = Timetable

    cooperative = factory.SubFactory(CooperativeFactory)
    carrier = factory.SubFactory(CarrierFactory, cooperative=factory.SelfAttribute("..cooperative"))
    route = factory.SubFactory(RouteFactory, cooperative=factory.SelfAttribute("..cooperative"))
    monday = tuesday = wednesday = thursday = friday = saturday = sunday = True
    departs_at_local = time(16)
    delay_hours_mean = 0.5
    delay_hours_cv = 0.8
    valid_from = date(2025, 1, 1)


class FillingTimetableFactory(TimetableFactory):
    """Begins to load at 07:00 and leaves when full."""

    departs_at_local = time(7)
    leaves_when_full = True
    seats_left = 10
    riders_per_hour = 6.0
