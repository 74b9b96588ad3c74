"""One departure with everything behind it: curves of the fish, the way, the bill, the packing sheet."""

from dataclasses import dataclass
from datetime import datetime, timedelta

import numpy as np

from coop.engines.ambient import Carries
from coop.engines.carton import capacity
from coop.engines.departure import standard_normal_quantile
from coop.engines.price_ladder import Rung
from coop.selectors.cost import ladder_of, prices_for
from coop.selectors.departure_slots import draws_of, rows_of
from coop.selectors.departures import Departure, departure_named, outing_of, packing_of
from coop.selectors.engine_inputs import HOUR, carton_of
from coop.selectors.packing import PackingSheet, packing_sheet
from coop.selectors.thermal_runs import INTERVAL, follow, limit_holds
from coop.selectors.thermal_runs_way import stages_of
from coop.selectors.warming_curves import SOFT_ENOUGH, WarmingCurves, limits_of, nights_of, one_of


@dataclass(frozen=True)
class Stop:
    """A place on the way of a trip of median length; `carries` is what the carton stands in from here on."""

    place: object
    km: float
    arrives_at: datetime | None
    leaves_at: datetime | None
    hours: float
    air: float | None
    carries: Carries


@dataclass(frozen=True)
class DepartureInFull:
    departure: Departure
    curves: WarmingCurves
    stops: tuple[Stop, ...]
    ladder: tuple[Rung, ...]
    pays_from_kg: float | None
    sheet: PackingSheet


def departure_in_full(question, name):
    narrowed, departure = departure_named(question, name)
    rows = rows_of(narrowed)
    slot, design = departure.slot, departure.design
    _, travel = draws_of(narrowed, rows, slot.timetable)
    outing, _ = outing_of(narrowed, rows, slot, travel)
    _, packed, cartons = packing_of(narrowed, design, slot.standard)
    curves, middle = warming_curves(slot.standard.confidence, packed, outing)
    prices = prices_for(narrowed.cooperative, narrowed.route, narrowed.buyer, narrowed.species)
    ladder, pays_from = ladder_of(
        prices,
        carrier=slot.carrier,
        design=design,
        capacity_kg=capacity(carton_of(design)),
        most_cartons=slot.carrier.carton_places,
        day=slot.departs_at.date(),
        softened_share=round(departure.judgement.expected_softened_share, 4),
        with_fish=narrowed.with_fish,
    )
    return DepartureInFull(
        departure=departure,
        curves=curves,
        stops=tuple(stops_of(narrowed, rows, slot, outing, middle)),
        ladder=ladder,
        pays_from_kg=pays_from,
        sheet=packing_sheet(design, narrowed.mass_kg / cartons, slot.departs_at.date()),
    )


def warming_curves(confidence, packed, outing):
    """Curves of the best estimate on a median trip and of a poor wall on the trip that is worst for it.

    Returns WarmingCurves and the exposure of the median trip.
    """
    poor = float(standard_normal_quantile(confidence))
    runs = follow(
        packed,
        outing,
        [outing.wait],
        [outing.closing],
        travel=outing.travel,
        deviations=np.array([0.0, poor]),
        stop_at=SOFT_ENOUGH,
        read_every=1,
    )
    holds = limit_holds(runs.curves, packed.limit_kind, packed.limit_value).reshape(-1, 2)
    middle, worst = len(holds) // 2, int(np.argmin(holds[:, 1]))
    best, cautious = (one_of(runs.curves, 2 * trip + wall) for trip, wall in ((middle, 0), (worst, 1)))
    chosen = (packed.limit_kind, packed.limit_value)
    return WarmingCurves(
        hours=best.time / HOUR,
        best=best,
        cautious=cautious,
        air=runs.exposure.air[middle],
        outside=runs.exposure.outside[middle],
        nights=nights_of(outing.weather, outing.closing, best.time[-1]),
        limits=limits_of(best, cautious, chosen),
    ), runs.exposure.air[middle]


def stops_of(question, rows, slot, outing, air):
    """The places of the route as a trip of median length reaches and leaves them."""
    travel = outing.travel[len(outing.travel) // 2]
    stages = stages_of(outing.way, [outing.wait], [travel])
    ends, km = stages.ends[0], 0.0
    first = rows.legs[0].start
    yield _stop(slot, air, first, km, 0.0, ends[0], outing.way.carries[1])
    for number, leg in enumerate(rows.legs):
        km += leg.distance_km
        arrives, leaves = ends[1 + 2 * number], ends[2 + 2 * number]
        is_last = number == len(rows.legs) - 1
        carries = outing.way.carries[-1] if is_last else outing.way.carries[3 + 2 * number]
        yield _stop(slot, air, leg.end, km, arrives, None if is_last else leaves, carries)


def _stop(slot, air, place, km, arrives, leaves, carries):
    at = leaves if leaves is not None else arrives
    number = int(at // INTERVAL)
    return Stop(
        place=place,
        km=km,
        arrives_at=slot.closes_at + timedelta(seconds=arrives) if arrives else None,
        leaves_at=slot.closes_at + timedelta(seconds=leaves) if leaves is not None else None,
        hours=at / HOUR,
        air=float(air[number]) if number < len(air) else None,
        carries=Carries(int(carries)),
    )
