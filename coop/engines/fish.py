"""Fish as a material that heat flows through: ice, enthalpy, density and conductivity from −45 to +40 °C.

The default freezing point is −1.0 °C, where fish begins to freeze. ASHRAE's table of foods lists −2.2 °C for
every fish; with that figure Chen's enthalpy at −5 °C is half as much again as measured.
"""

from typing import NamedTuple

import numpy as np

COLDEST, HOTTEST = -45.0, 40.0
"""°C between which the formulas are used; Choi & Okos measured from −40 °C."""
LOWEST_FREEZING_POINT, HIGHEST_FREEZING_POINT = -5.0, -0.1
SUM_TOLERANCE = 0.02
"""Published analyses are rounded, and leave out a trace of carbohydrate."""
LATENT_HEAT_OF_WATER = 333.6e3
"""J/kg; ASHRAE Handbook, Refrigeration, Thermal properties of foods."""
ENTHALPY_ZERO = -40.0
"""°C at which enthalpy is 0, as in Chen 1985 and in the table of FAO FTP 340."""
BOUND_WATER_PER_PROTEIN = 0.4
"""kg of water that never freezes a kg of protein; Schwartzberg 1976."""
FROZEN_BASE, FROZEN_SOLIDS = 1550.0, 1260.0
UNFROZEN_BASE, UNFROZEN_SOLIDS, UNFROZEN_SOLIDS_CUBED = 4190.0, -2300.0, -628.0
"""J/(kg K); Chen 1985, J. Food Science 50:1158, the frozen and the unfrozen branch."""
CONDUCTIVITY = {
    "water": (0.57109, 1.7625e-3, -6.7036e-6),
    "protein": (0.17881, 1.1958e-3, -2.7178e-6),
    "fat": (0.18071, -2.7604e-4, -1.7749e-7),
    "ash": (0.32962, 1.4011e-3, -2.9069e-6),
    "ice": (2.2196, -6.2489e-3, 1.0154e-4),
}
"""W/(m K) = A + B t + C t², t in °C; Choi & Okos 1986. A fat slope ten times as steep is a misprint."""
DENSITY = {
    "water": (997.18, 3.1439e-3, -3.7574e-3),
    "protein": (1329.9, -0.51840, 0.0),
    "fat": (925.59, -0.41757, 0.0),
    "ash": (2423.8, -0.28063, 0.0),
    "ice": (916.89, -0.13071, 0.0),
}
"""kg/m³ = A + B t + C t², t in °C; Choi & Okos 1986."""
AIR_CONDUCTIVITY = (0.02415, 8.0e-5, 0.0)
"""W/(m K), as above, of dry air: through 250 and 300 K of Incropera & DeWitt, Table A.4, from memory."""


class Flesh(NamedTuple):
    """What flesh consists of: mass fractions, each a number or (n,), and the freezing point in °C."""

    water: float
    protein: float
    fat: float
    ash: float
    freezing_point: float = -1.0


def ice_fraction(temperature, *, flesh):
    """Ice in a kilogram of fish.

    temperature   (n,)    °C   −45…+40
    flesh         Flesh   –    composition, scalars or (n,)

    Returns (n,) kg/kg, 0 from the freezing point up.
    Raises ValueError for a temperature out of range or a composition that cannot be.
    Source: Miles 1974, x = (xw − xb)(1 − tf/t), with bound water xb = 0.4 xp of Schwartzberg 1976; both as
        the ASHRAE Handbook (Refrigeration, Thermal properties of foods) gives them.
    """
    temperature, flesh = _temperature(temperature), _flesh(flesh)
    return _ice(temperature, flesh)


def enthalpy(temperature, *, flesh):
    """Heat content of a kilogram of fish above −40 °C; melting is part of it.

    temperature   (n,)    °C   −45…+40
    flesh         Flesh   –    composition, scalars or (n,)

    Returns (n,) J/kg, negative below −40 °C, rising strictly with temperature.
    Raises ValueError for a temperature out of range or a composition that cannot be.
    Source: Chen 1985, J. Food Science 50:1158, with bound water of Schwartzberg 1976, as the ASHRAE Handbook
        (Refrigeration, Thermal properties of foods) gives it.
    """
    return _enthalpy(_temperature(temperature), _flesh(flesh))


def temperature(enthalpy, *, flesh):
    """Temperature of fish of a given heat content: the inverse of `enthalpy`, in closed form.

    enthalpy   (n,)    J/kg   above −40 °C, between what −45 and +40 °C give
    flesh      Flesh   –      composition, scalars or (n,)

    Returns (n,) °C.
    Raises ValueError for an enthalpy out of range or a composition that cannot be.
    Source: Chen 1985, solved for the temperature; the frozen branch is a quadratic in it.
    """
    flesh = _flesh(flesh)
    coldest, hottest = _enthalpy(np.asarray(COLDEST), flesh), _enthalpy(np.asarray(HOTTEST), flesh)
    enthalpy = _between("enthalpy", enthalpy, coldest, hottest, "J/kg")
    at_freezing = _frozen_enthalpy(flesh.freezing_point, flesh)
    frozen = _frozen_temperature(np.minimum(enthalpy, at_freezing), flesh)
    unfrozen = flesh.freezing_point + (enthalpy - at_freezing) / _unfrozen_heat(flesh)
    return np.where(enthalpy < at_freezing, frozen, unfrozen)[()]


def latent_heat(*, flesh):
    """Heat that melts all the water of a kilogram of fish.

    flesh   Flesh   –   composition, scalars or (n,)

    Returns (n,) J/kg.
    Raises ValueError for a composition that cannot be.
    Source: ASHRAE Handbook, Refrigeration, Thermal properties of foods: 333.6 kJ a kg of water.
    """
    return (LATENT_HEAT_OF_WATER * _flesh(flesh).water)[()]


def half_frozen_temperature(*, flesh):
    """Temperature at which half of all the water of the fish is ice; warmer fish counts as softened.

    flesh   Flesh   –   composition, scalars or (n,)

    Returns (n,) °C, about −2.2 for lean fish. Half of the freezable water alone would be −2.0: the colder
    of the two readings is the cautious one.
    Raises ValueError for a composition that cannot be, or whose protein binds half of the water or more.
    Source: Miles 1974 solved for the temperature; Torry Advisory Note 32: half of the water at about −2.2 °C.
    """
    flesh = _flesh(flesh)
    share = flesh.water / 2 / _freezable(flesh)
    _require("flesh.water", flesh.water, share < 1, "more than twice the water that protein binds")
    return (flesh.freezing_point / (1 - share))[()]


def flesh_density(temperature, *, flesh):
    """Density of the flesh itself, without air.

    temperature   (n,)    °C   −45…+40
    flesh         Flesh   –    composition, scalars or (n,)

    Returns (n,) kg/m³.
    Raises ValueError for a temperature out of range or a composition that cannot be.
    Source: Choi & Okos 1986, volumes of the parts added up; fractions are taken relative to their sum.
    """
    temperature, flesh = _temperature(temperature), _flesh(flesh)
    mass = _parts(temperature, flesh)
    return (sum(mass.values()) / sum(_volumes(temperature, mass).values()))[()]


def flesh_conductivity(temperature, *, flesh):
    """Thermal conductivity of the flesh itself, without air.

    temperature   (n,)    °C   −45…+40
    flesh         Flesh   –    composition, scalars or (n,)

    Returns (n,) W/(m K).
    Raises ValueError for a temperature out of range or a composition that cannot be.
    Source: Levy 1981 over the parts of Choi & Okos 1986, one part after the other as the ASHRAE Handbook has
        it for more than two phases: protein, fat, ash in water, then ice in all that. Levy did best in the
        comparison of Fricke & Becker 2001, HVAC&R Research 7(4).
    """
    temperature, flesh = _temperature(temperature), _flesh(flesh)
    volumes = _volumes(temperature, _parts(temperature, flesh))
    mixed = volumes.pop("water")
    conductivity = _polynomial(CONDUCTIVITY["water"], temperature)
    for part, volume in volumes.items():
        mixed = mixed + volume
        conductivity = _levy(_polynomial(CONDUCTIVITY[part], temperature), conductivity, volume / mixed)
    return conductivity[()]


def stacked_conductivity(temperature, *, flesh, stowage_density):
    """Thermal conductivity of fish stacked with air between them.

    temperature       (n,)    °C      −45…+40
    flesh             Flesh   –       composition, scalars or (n,)
    stowage_density   (n,)    kg/m³   fish as it lies, air gaps and all: > 0, at most the density of the flesh

    Returns (n,) W/(m K). The flesh is the continuous phase, so this is the upper bound for a random stack.
    Raises ValueError for a value out of range, an impossible composition, or more fish than flesh can weigh.
    Source: Maxwell–Eucken for pores in a continuous phase (Eucken 1940; formula from memory); porosity from
        the stowage density. Radiation across gaps of 2–3 cm, left out, would add about a tenth.
    """
    solid = flesh_conductivity(temperature, flesh=flesh)
    density = flesh_density(temperature, flesh=flesh)
    stowage_density = np.asarray(stowage_density, float)
    fits = (stowage_density > 0) & (stowage_density <= density)
    right = f"above 0 and at most the density of the flesh, {np.min(density):.0f} kg/m³"
    _require("stowage_density", stowage_density, fits, right)
    pores = 1 - stowage_density / density
    return _maxwell_eucken(solid, _polynomial(AIR_CONDUCTIVITY, np.asarray(temperature, float)), pores)


def _temperature(values):
    return _between("temperature", values, COLDEST, HOTTEST, "°C")


def _flesh(flesh):
    """The composition as arrays, once it has been found possible."""
    flesh = Flesh(*(np.asarray(values, float) for values in flesh))
    for name in ("water", "protein", "fat", "ash"):
        share = getattr(flesh, name)
        _require(f"flesh.{name}", share, (share >= 0) & (share <= 1), "a mass fraction between 0 and 1")
    total = flesh.water + flesh.protein + flesh.fat + flesh.ash
    sums = np.abs(total - 1) <= SUM_TOLERANCE + 1e-9
    _require("sum of water, protein, fat and ash", total, sums, f"1 give or take {SUM_TOLERANCE}")
    freezable = _freezable(flesh)
    _require("flesh.water", flesh.water, freezable > 0, "more than the 0.4 kg that a kg of protein binds")
    _between(
        "flesh.freezing_point", flesh.freezing_point, LOWEST_FREEZING_POINT, HIGHEST_FREEZING_POINT, "°C"
    )
    return flesh


def _freezable(flesh):
    return flesh.water - BOUND_WATER_PER_PROTEIN * flesh.protein


def _ice(temperature, flesh):
    frozen = np.minimum(temperature, flesh.freezing_point)
    return (_freezable(flesh) * (1 - flesh.freezing_point / frozen))[()]


def _enthalpy(temperature, flesh):
    frozen = _frozen_enthalpy(np.minimum(temperature, flesh.freezing_point), flesh)
    return (frozen + np.maximum(temperature - flesh.freezing_point, 0.0) * _unfrozen_heat(flesh))[()]


def _frozen_heat(flesh):
    return FROZEN_BASE + FROZEN_SOLIDS * (1 - flesh.water)


def _unfrozen_heat(flesh):
    solids = 1 - flesh.water
    return UNFROZEN_BASE + UNFROZEN_SOLIDS * solids + UNFROZEN_SOLIDS_CUBED * solids * solids * solids


def _melting(flesh):
    """J K/kg: what c tf in Chen's c tf/t stands for, negative."""
    return _freezable(flesh) * LATENT_HEAT_OF_WATER * flesh.freezing_point


def _frozen_enthalpy(t, flesh):
    return (t - ENTHALPY_ZERO) * (_frozen_heat(flesh) - _melting(flesh) / (ENTHALPY_ZERO * t))


def _frozen_temperature(enthalpy, flesh):
    """The negative root t of a t² − b t + m = 0, whose terms are Chen's multiplied by t."""
    a, m = _frozen_heat(flesh), _melting(flesh)
    b = enthalpy + a * ENTHALPY_ZERO + m / ENTHALPY_ZERO
    root = np.sqrt(b * b - 4 * a * m)
    # Each form of the root loses its digits where the other keeps them.
    return np.where(b > 0, 2 * m / (np.maximum(b, 0) + root), (np.minimum(b, 0) - root) / (2 * a))


def _parts(temperature, flesh):
    """kg of each part in a kg of fish; water first, for it holds the rest, and ice last."""
    ice = _ice(temperature, flesh)
    return {
        "water": flesh.water - ice,
        "protein": flesh.protein,
        "fat": flesh.fat,
        "ash": flesh.ash,
        "ice": ice,
    }


def _volumes(temperature, mass):
    return {part: share / _polynomial(DENSITY[part], temperature) for part, share in mass.items()}


def _polynomial(coefficients, t):
    a, b, c = coefficients
    return a + b * t + c * t * t


def _levy(k1, k2, r):
    """Conductivity of a volume share r of phase 1 in phase 2, arranged so that it also holds for k1 = k2."""
    ratio = k1 / k2
    s = (ratio - 1) ** 2 / ((ratio + 1) ** 2 + ratio / 2)
    q = 2 - s + 2 * r * s
    f = 4 * r / (q + np.sqrt(q * q - 8 * r * s))
    return k2 * ((2 + ratio) + 2 * (ratio - 1) * f) / ((2 + ratio) - (ratio - 1) * f)


def _maxwell_eucken(continuous, dispersed, share):
    a = 3 * continuous / (2 * continuous + dispersed)
    return continuous * (1 - (1 - a * dispersed / continuous) * share) / (1 + (a - 1) * share)


def _between(name, values, low, high, unit):
    values = np.asarray(values, float)
    right = f"between {np.min(low):.6g} and {np.max(high):.6g} {unit}"
    _require(name, values, (values >= low) & (values <= high), right)
    return values


def _require(name, values, is_right, what):
    """Refuses an argument with the first of its values that is wrong."""
    if not np.all(is_right):
        values, is_right = np.broadcast_arrays(values, is_right)
        raise ValueError(f"{name} must be {what}, not {values[~is_right].flat[0]}")
