"""When fish is frozen: by Plank, by Pham, and down to the cold of the freezer itself."""

import numpy as np

from coop.engines import fish
from coop.engines.freezing_shape import dimensions

COLDEST_AIR, WARMEST_AIR = -45.0, -15.0
"""°C of the air in the experiments behind Pham's formula."""
WARMEST_START = 40.0
MEASURED_CORE = -10.0
"""°C of the core to which most of those experiments ran; frozen fish conducts as it does there."""
UNCERTAINTY = 0.10
"""Of a time by Pham's formula against experiments; Pham 1986, from memory."""
TAIL_STEPS = 40


def freezing_time_plank(*, thickness, factors, film, conductivity, latent_heat, freezing_point, air):
    """Time until the last of fish at its freezing point is ice: nothing for cooling before or after.

    thickness        (n,)     m           smallest side or diameter, > 0
    factors          (P, R)   –           freezing_shape.PLANK_SLAB, …_CYLINDER, …_SPHERE, or plank_brick
    film             (n,)     W/(m² K)    between fish and air, wrapping included, > 0
    conductivity     (n,)     W/(m K)     of the frozen fish, > 0
    latent_heat      (n,)     J/m³        > 0
    freezing_point   (n,)     °C          above the air
    air              (n,)     °C          in the freezer

    Returns (n,) s, always short of the real time.
    Raises ValueError for a value that is not positive or a freezing point that is not above the air.
    Source: Plank 1941, t = L ρ/(tf − ta) (P D/h + R D²/k); any text on food engineering.
    """
    thickness, film, conductivity, latent_heat = _all_positive(
        thickness=thickness, film=film, conductivity=conductivity, latent_heat=latent_heat
    )
    drop = np.asarray(freezing_point, float) - np.asarray(air, float)
    _require("freezing_point − air", drop, drop > 0, "above 0 K")
    p, r = factors
    return (latent_heat / drop * (p * thickness / film + r * thickness**2 / conductivity))[()]


def mean_freezing_temperature_pham(*, core, air):
    """Temperature at which the heat of freezing counts as given off.

    core   (n,)   °C   of the thermal centre at the end
    air    (n,)   °C   in the freezer

    Returns (n,) °C, between the freezing point and the core's.
    Raises ValueError for what is no finite temperature.
    Source: Pham 1986, J. Food Technology 21:209: 1.8 + 0.263 tc + 0.105 ta.
    """
    core, air = np.asarray(core, float), np.asarray(air, float)
    for name, value in (("core", core), ("air", air)):
        _require(name, value, np.isfinite(value), "finite")
    return (1.8 + 0.263 * core + 0.105 * air)[()]


def freezing_time_pham(*, half, dimensions, film, conductivity, precooling, freezing, initial, core, air):
    """Time until the core of fish has come down to a temperature, cooling before and after included.

    half           (n,)    m           from the centre to the nearest face, > 0
    dimensions     (n,)    –           of heat flow: freezing_shape.dimensions, 1…3
    film           (n,)    W/(m² K)    between fish and air, wrapping included, > 0
    conductivity   (n,)    W/(m K)     of the frozen fish, > 0
    precooling     (n,)    J/m³        from the start to the mean freezing temperature, > 0
    freezing       (n,)    J/m³        from there to the end, ice and all, > 0
    initial        (n,)    °C          of the fish that comes in
    core           (n,)    °C          of the thermal centre at the end
    air            (n,)    °C          in the freezer

    Returns (n,) s; ten parts in a hundred from experiments for air of −45 to −15 °C.
    Raises ValueError for a value that is not positive or temperatures out of order.
    Source: Pham 1986, J. Food Technology 21:209, as Singh & Heldman 2009, ch. 7, have it (from memory).
    """
    mean = mean_freezing_temperature_pham(core=core, air=air)
    half, dimensions, film, conductivity, precooling, freezing = _all_positive(
        half=half, dimensions=dimensions, film=film, conductivity=conductivity,
        precooling=precooling, freezing=freezing,
    )  # fmt: skip
    before, during = (np.asarray(initial, float) + mean) / 2 - air, mean - air
    _require("initial", initial, before > 0, "above the air")
    _require("air", air, during > 0, "below the mean freezing temperature")
    heat = precooling / before + freezing / during
    return (half / (dimensions * film) * heat * _inside(film, half, conductivity))[()]


def heat_before_and_after_freezing(*, initial, core, air, flesh):
    """What a cubic metre of fish gives off above and below its mean freezing temperature.

    initial   (n,)    °C   of the fish that comes in, 0…40
    core      (n,)    °C   at the end, −45…−10
    air       (n,)    °C   in the freezer, −45…−15
    flesh     Flesh   –    composition

    Returns (above, below), each (n,) J/m³; their sum is the fall of the fish's enthalpy.
    Raises ValueError for a temperature out of range or a composition that cannot be.
    Source: Pham 1986 for what counts as above: unfrozen fish all the way; the rest by Chen's enthalpy.
    """
    initial = _between("initial", initial, 0.0, WARMEST_START)
    core = _between("core", core, fish.COLDEST, MEASURED_CORE)
    air = _between("air", air, COLDEST_AIR, WARMEST_AIR)
    density = fish.flesh_density(initial, flesh=flesh)
    total = density * (fish.enthalpy(initial, flesh=flesh) - fish.enthalpy(core, flesh=flesh))
    warm = fish.enthalpy(fish.HOTTEST, flesh=flesh) - fish.enthalpy(fish.HOTTEST - 1, flesh=flesh)
    mean = mean_freezing_temperature_pham(core=core, air=air)
    above = density * warm * (initial - mean)
    return above, total - above


def freezing_time(*, body, film, air, initial, core, flesh):
    """Time until the core of fish is as cold as wanted, in a freezer that keeps its cold.

    body      Body    –           freezing_shape.Body, scalars or (n,)
    film      (n,)    W/(m² K)    between fish and air, wrapping included, > 0
    air       (n,)    °C          in the freezer, −45…−15
    initial   (n,)    °C          of the fish that comes in, 0…40
    core      (n,)    °C          wanted, −45…−10
    flesh     Flesh   –           composition

    Returns (n,) s, inf for a core that is not to be warmer than the air.
    Raises ValueError for a value out of range, a shape that is not known or an impossible composition.
    Source: Pham 1986 down to −10 °C; below that Newton's cooling over Chen's enthalpy with Pham's resistance:
        near the air Pham's own figure promises 8 to 12 % too much (finite volumes of the tests).
    """
    core = _between("core", core, fish.COLDEST, MEASURED_CORE)
    frozen = time_to_measured_core(body=body, film=film, air=air, initial=initial, flesh=flesh)
    return (frozen + tail_time(body=body, film=film, air=air, core=core, flesh=flesh))[()]


def time_to_measured_core(*, body, film, air, initial, flesh):
    """Time until the core is at −10 °C: frozen, and as far as Pham's experiments went.

    body      Body    –           freezing_shape.Body, scalars or (n,)
    film      (n,)    W/(m² K)    between fish and air, > 0
    air       (n,)    °C          in the freezer, −45…−15
    initial   (n,)    °C          of the fish that comes in, 0…40
    flesh     Flesh   –           composition

    Returns (n,) s.
    Raises ValueError for a value out of range, a shape that is not known or an impossible composition.
    Source: Pham 1986, with the shape as Cleland and Hossain count it.
    """
    conductivity, counted = _resistance(body, film, flesh)
    above, below = heat_before_and_after_freezing(initial=initial, core=MEASURED_CORE, air=air, flesh=flesh)
    return freezing_time_pham(
        half=body.half, dimensions=counted, film=film, conductivity=conductivity,
        precooling=above, freezing=below, initial=initial, core=MEASURED_CORE, air=air,
    )  # fmt: skip


def tail_time(*, body, film, air, core, flesh):
    """Time that frozen fish takes from −10 °C down to a colder core.

    body    Body    –           freezing_shape.Body, scalars or (n,)
    film    (n,)    W/(m² K)    between fish and air, > 0
    air     (n,)    °C          in the freezer, −45…−15
    core    (n,)    °C          −45…−10
    flesh   Flesh   –           composition

    Returns (n,) s, 0 for a core of −10 °C, inf for one that is not to be warmer than the air.
    Raises ValueError for a value out of range, a shape that is not known or an impossible composition.
    Source: Newton's law of cooling, dt = ρ R dh/(T − Ta), R the resistance of film and fish as in Plank's.
    """
    air, core = np.broadcast_arrays(_between("air", air, COLDEST_AIR, WARMEST_AIR), np.asarray(core, float))
    conductivity, counted = _resistance(body, film, flesh)
    reached = core > air
    above_air = np.where(reached, core - air, MEASURED_CORE - air)
    nodes = air + np.geomspace(above_air, MEASURED_CORE - air, TAIL_STEPS + 1)
    fall = np.diff(fish.enthalpy(np.clip(nodes, fish.COLDEST, None), flesh=flesh), axis=0)
    spent = (fall / ((nodes[1:] + nodes[:-1]) / 2 - air)).sum(axis=0)
    resistance = body.half / (counted * film) * _inside(film, body.half, conductivity)
    density = fish.flesh_density(0.0, flesh=flesh)
    return np.where(reached, density * resistance * spent, np.inf)[()]


def _resistance(body, film, flesh):
    """Conductivity of the frozen fish, and the dimensions that its shape counts for."""
    (film,) = _all_positive(film=film)
    conductivity = fish.flesh_conductivity(MEASURED_CORE, flesh=flesh)
    return conductivity, dimensions(body, biot=film * body.half / conductivity)


def _inside(film, half, conductivity):
    """How much slower it is for the way through the fish: 1 + Bi/2."""
    return 1 + film * half / conductivity / 2


def _all_positive(**values):
    found = {name: np.asarray(value, float) for name, value in values.items()}
    for name, value in found.items():
        _require(name, value, (value > 0) & np.isfinite(value), "positive and finite")
    return tuple(found.values())


def _between(name, values, low, high):
    values = np.asarray(values, float)
    _require(name, values, (values >= low) & (values <= high), f"between {low:g} and {high:g} °C")
    return values


def _require(name, values, is_right, what):
    if not np.all(is_right):
        values, is_right = np.broadcast_arrays(np.asarray(values, float), is_right)
        raise ValueError(f"{name} must be {what}, not {values[~is_right].flat[0]}")
