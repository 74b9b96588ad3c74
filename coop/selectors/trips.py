"""Trips that were logged at their hand-over, and what they say of the next one with the same carrier."""

from dataclasses import dataclass

import numpy as np

from coop.engines.journey_time import draw_journey, log_ratio
from coop.engines.trip_log import figures_prior, normal_inverse_gamma_update, predictive
from coop.models import Parcel

FIGURES_WORTH = 10.0
"""Trips that the figures of a route count as, before any is logged: common practice, no source."""
LEAST_DEVIATION = 0.05
"""Of the logarithm of a trip's time: common practice, no source."""


@dataclass(frozen=True)
class Trip:
    """One vehicle on one day, from leaving until at the end of the route."""

    carrier_id: int
    road_s: float


def trips_of(cooperative, route):
    """Logged trips of a route; several parcels in one vehicle are one trip, as long as its slowest."""
    logged = (
        Parcel.objects.of(cooperative)
        .filter(route=route, departed_at__isnull=False, arrived_at__isnull=False)
        .order_by("departs_at", "timetable_id", "pk")
        .values_list("timetable__carrier_id", "timetable_id", "departs_at", "departed_at", "arrived_at")
    )
    slowest = {}
    for carrier, timetable, planned, departed, arrived in logged:
        road_s = (arrived - departed).total_seconds()
        vehicle = (carrier, timetable, planned)
        slowest[vehicle] = max(road_s, slowest.get(vehicle, road_s))
    return tuple(Trip(carrier, road_s) for (carrier, *_), road_s in slowest.items())


def roads_of(trips, *, carrier, legs):
    """Times s that a carrier took over a road.

    A trip faster than all floors of the road together is left out: it says that a floor is set too high, and
    leaving it out is on the safe side.
    """
    floor = sum(leg.floor for leg in legs)
    return [trip.road_s for trip in trips if trip.carrier_id == carrier.pk and trip.road_s > floor]


def spread_of(trips, *, carrier, legs, journey):
    """StudentT of the next trip of a carrier by what it logged, or None where it logged nothing.

    journey holds draw_journey's arguments besides legs and spread.
    """
    roads = roads_of(trips, carrier=carrier, legs=legs)
    if not roads:
        return None

    def ratios(road):
        return log_ratio(np.asarray(road), legs=legs)

    drawn = ratios(draw_journey(legs=legs, spread=None, **journey).leg_times.sum(axis=1))
    return predictive(normal_inverse_gamma_update(belief_of(drawn), ratios(roads)))


def belief_of(drawn):
    """What the figures say before any trip; figures that claim to know a road exactly are not believed."""
    if drawn.std() < LEAST_DEVIATION:
        drawn = drawn.mean() + LEAST_DEVIATION * np.array([-1.0, 1.0])
    return figures_prior(drawn, worth=FIGURES_WORTH)
