"""How long any carton holds in any weather, for several limits at once."""

from dataclasses import dataclass

import numpy as np

from coop.engines import ambient
from coop.engines.ambient import Carries, Stages, Weather
from coop.engines.carton import load
from coop.engines.departure import standard_normal_quantile
from coop.selectors.engine_inputs import HOUR, lognormal_sigma
from coop.selectors.thermal_runs import HORIZON, INTERVAL, Packed, warmed
from coop.selectors.thermal_runs_way import FOR_EVER
from coop.selectors.warming_curves import SOFT_ENOUGH, WarmingCurves, limits_of, nights_of, one_of

DAYS = 6


@dataclass(frozen=True)
class Surroundings:
    """Weather of days that are all alike, and what the carton stands in; the sun of one place and day."""

    maximum_c: float
    minimum_c: float
    cloud_share: float
    latitude_deg: float
    longitude_deg: float
    day_of_year: int
    zone_offset: float
    carries: Carries
    offset_c: float
    closing_hour: float


def packed_of(carton, mass_kg, flesh, *, start_temperature_c, conductivity_cv, limit):
    """Packed of any carton; a mass that does not fit raises what engines.carton.load raises."""
    kind, value = limit
    return Packed(
        carton,
        load(carton, mass_kg),
        flesh,
        start_temperature_c,
        lognormal_sigma(conductivity_cv),
        kind,
        value,
    )


def hold_curves(packed, around: Surroundings, *, confidence, threads=1):
    """WarmingCurves of a carton that stays where it is, by best estimate and in as poor a wall as may be."""
    weather = _alike(around)
    closing = around.closing_hour * HOUR
    count = int(HORIZON / INTERVAL)
    exposure = ambient.exposure(
        weather=weather,
        stages=Stages(np.array([[FOR_EVER]]), np.zeros(1, int), np.zeros(1, int), np.array([around.carries])),
        closing=np.array([closing]),
        interval=INTERVAL,
        count=count,
        offset=around.offset_c,
    )
    poor = float(standard_normal_quantile(confidence))
    curves = warmed(
        packed, exposure, np.array([count]), np.array([0.0, poor]), threads=threads,
        stop_at=SOFT_ENOUGH, read_every=1,
    )  # fmt: skip
    best, cautious = one_of(curves, 0), one_of(curves, 1)
    return WarmingCurves(
        hours=best.time / HOUR,
        best=best,
        cautious=cautious,
        air=exposure.air[0],
        outside=exposure.outside[0],
        nights=nights_of(weather, closing, best.time[-1]),
        limits=limits_of(best, cautious, (packed.limit_kind, packed.limit_value)),
    )


def _alike(around):
    def daily(value):
        return np.full((1, DAYS), float(value))

    return Weather(
        maximum=daily(around.maximum_c),
        minimum=daily(around.minimum_c),
        cloud_share=daily(around.cloud_share),
        latitude=np.array([around.latitude_deg]),
        longitude=np.array([around.longitude_deg]),
        day_of_year=np.full(DAYS, around.day_of_year),
        zone_offset=around.zone_offset,
    )
