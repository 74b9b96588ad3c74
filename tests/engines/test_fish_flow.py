"""How well fish leads heat and what it weighs, against measurements and limits that need none."""

import fluids
import numpy as np
import pytest
from scipy import optimize

from coop.engines import fish
from coop.engines.fish import Flesh

COD = Flesh(water=0.8122, protein=0.1781, fat=0.0067, ash=0.0116)
"""From memory of ASHRAE Handbook, Refrigeration, Thermal properties of foods, Table 3."""
HERRING = Flesh(water=0.7205, protein=0.1796, fat=0.0904, ash=0.0146)
"""Atlantic herring, from memory of the public food table of the USDA."""
LEAN = Flesh(water=0.803, protein=0.18, fat=0.006, ash=0.011)
RANGE = np.linspace(-45, 40, 171)


def parts(t, flesh):
    """Conductivity and volume of each part, by Choi & Okos 1986."""
    ice = fish.ice_fraction(t, flesh=flesh)
    mass = {
        "water": flesh.water - ice,
        "ice": ice,
        "protein": flesh.protein,
        "fat": flesh.fat,
        "ash": flesh.ash,
    }
    value = {
        name: [np.polyval(table[name][::-1], t) for table in (fish.CONDUCTIVITY, fish.DENSITY)]
        for name in mass
    }
    conductivity = np.array([value[name][0] for name in mass])
    volume = np.array([mass[name] / value[name][1] for name in mass])
    return conductivity, volume / volume.sum()


@pytest.mark.parametrize(
    ("part", "temperature", "conductivity", "density", "tolerance"),
    [
        # IAPWS formulations, from memory; Choi & Okos fitted their polynomials to within 2–3 %.
        ("water", 0.0, 0.5562, 999.8, 0.03),
        ("water", 20.0, 0.5980, 998.2, 0.02),
        ("water", 40.0, 0.6286, 992.2, 0.02),
        ("ice", 0.0, 2.22, 916.7, 0.02),
        ("ice", -20.0, 2.39, 919.6, 0.02),
    ],
)
def test_water_and_ice_of_choi_and_okos_are_those_of_physics(
    part, temperature, conductivity, density, tolerance
):
    assert np.polyval(fish.CONDUCTIVITY[part][::-1], temperature) == pytest.approx(
        conductivity, rel=tolerance
    )
    assert np.polyval(fish.DENSITY[part][::-1], temperature) == pytest.approx(density, rel=0.005)


def test_the_coefficients_are_those_of_choi_and_okos():
    """Choi & Okos 1986, Food Engineering and Process Applications 1:93, Tables; five public copies agree."""
    assert fish.CONDUCTIVITY["fat"][1] == -2.7604e-4
    assert fish.CONDUCTIVITY["ice"] == (2.2196, -6.2489e-3, 1.0154e-4)
    assert fish.CONDUCTIVITY["protein"] == (0.17881, 1.1958e-3, -2.7178e-6)
    assert fish.CONDUCTIVITY["ash"] == (0.32962, 1.4011e-3, -2.9069e-6)
    assert fish.DENSITY["protein"] == (1329.9, -0.51840, 0.0)
    assert fish.DENSITY["fat"] == (925.59, -0.41757, 0.0)
    assert fish.DENSITY["ash"] == (2423.8, -0.28063, 0.0)


def test_air_between_the_fish_is_that_of_the_standard_atmosphere():
    """US Standard Atmosphere 1976 as PyPI `fluids` has it; a straight line may differ by 1 %."""
    for t in (-45, -18, 0, 20, 40):
        expected = fluids.ATMOSPHERE_1976.thermal_conductivity(t + 273.15)
        assert np.polyval(fish.AIR_CONDUCTIVITY[::-1], t) == pytest.approx(expected, rel=0.01)


def test_conductivity_of_cod_at_minus_15_is_that_measured_within_10_per_cent():
    """Jason & Long 1955: 1.46 W/(m K) (from memory); such measurements scatter by a tenth."""
    assert fish.flesh_conductivity(-15, flesh=COD) == pytest.approx(1.46, rel=0.10)


def test_conductivity_of_cod_at_minus_15_is_levys_not_that_of_layers():
    """Worked out by others: Levy 1.49 (2 %: the order of mixing is free), layers along 1.81, across 0.71."""
    assert fish.flesh_conductivity(-15, flesh=COD) == pytest.approx(1.49, rel=0.02)
    conductivity, volume = parts(-15, COD)
    assert (volume * conductivity).sum() == pytest.approx(1.81, abs=0.01)
    assert 1 / (volume / conductivity).sum() == pytest.approx(0.71, abs=0.01)


@pytest.mark.parametrize("temperature", [-40.0, -15.0, -3.0, -1.2])
def test_ice_in_water_leads_heat_as_levy_wrote_it(temperature):
    """Levy 1981 as printed (from memory): k = k2[(2 + Λ) + 2(Λ − 1)F]/[(2 + Λ) − (Λ − 1)F]."""
    flesh = Flesh(1, 0, 0, 0)
    (water, ice, *_), (_, r, *_) = parts(temperature, flesh)
    ratio = ice / water
    sigma = (ratio - 1) ** 2 / ((ratio + 1) ** 2 + ratio / 2)
    q = 2 / sigma - 1 + 2 * r
    f = (q - np.sqrt(q**2 - 8 * r / sigma)) / 2
    expected = water * ((2 + ratio) + 2 * (ratio - 1) * f) / ((2 + ratio) - (ratio - 1) * f)
    assert fish.flesh_conductivity(temperature, flesh=flesh) == pytest.approx(expected, rel=1e-12)


def test_thawed_cod_leads_heat_as_measured():
    """Unfrozen lean fish 0.43–0.56 W/(m K) at 0–10 °C; ASHRAE Handbook, Refrigeration, from memory."""
    assert 0.43 < fish.flesh_conductivity(5, flesh=COD) < 0.56


@pytest.mark.parametrize("flesh", [COD, HERRING, LEAN, Flesh(1, 0, 0, 0), Flesh(0.5, 0, 0.5, 0)])
def test_flesh_leads_heat_between_its_layers_across_and_its_layers_along(flesh):
    """Wiener's bounds: no arrangement of the parts can leave them."""
    for t in (-45.0, -18.0, -5.0, -1.5, 0.0, 40.0):
        conductivity, volume = parts(t, flesh)
        across, along = 1 / (volume / conductivity).sum(), (volume * conductivity).sum()
        assert across * (1 - 1e-9) <= fish.flesh_conductivity(t, flesh=flesh) <= along * (1 + 1e-9)


def test_pure_water_is_water_and_half_frozen_water_is_a_mix():
    assert fish.flesh_conductivity(20, flesh=Flesh(1, 0, 0, 0)) == pytest.approx(0.598, rel=0.02)
    assert fish.flesh_density(20, flesh=Flesh(1, 0, 0, 0)) == pytest.approx(998.2, rel=0.005)


def test_density_of_cod_is_that_of_fish():
    """Fresh lean fish 1 030–1 080 kg/m³, frozen about 4–7 % less (water grows by 9 % as it freezes)."""
    fresh, frozen = fish.flesh_density([2, -30], flesh=COD)
    assert 1030 < fresh < 1080
    assert 0.93 < frozen / fresh < 0.96


def test_fractions_that_are_rounded_leave_density_as_it_is():
    """Parts of 1.02 in all weigh no more a cubic metre than the same parts brought to 1."""
    over = Flesh(*(1.02 * share / sum(COD[:4]) for share in COD[:4]))
    exact = Flesh(*(share / sum(COD[:4]) for share in COD[:4]))
    assert fish.flesh_density(5, flesh=over) == pytest.approx(fish.flesh_density(5, flesh=exact), rel=1e-12)


def test_herring_in_bulk_leads_heat_as_measured_at_the_stowage_of_bulk():
    """Smith 1952: whole herring in bulk 0.80 W/(m K) at −19 °C (from memory): stowed closer than single fish
    (400–550 kg/m³) and looser than blocks (800–900)."""
    stowage = optimize.brentq(
        lambda density: fish.stacked_conductivity(-19, flesh=HERRING, stowage_density=density) - 0.80,
        200,
        980,
    )
    assert 550 < stowage < 800


def test_more_air_never_leads_more_heat():
    stowage = np.linspace(50, 980, 200)
    for t in (-18, 5):
        assert np.all(np.diff(fish.stacked_conductivity(t, flesh=LEAN, stowage_density=stowage)) > 0)


def test_fish_without_air_is_flesh_and_fish_that_is_all_but_air_is_air():
    density = fish.flesh_density(-18, flesh=LEAN)
    solid = fish.stacked_conductivity(-18, flesh=LEAN, stowage_density=density)
    assert solid == pytest.approx(fish.flesh_conductivity(-18, flesh=LEAN), rel=1e-12)
    air = np.polyval(fish.AIR_CONDUCTIVITY[::-1], -18.0)
    assert fish.stacked_conductivity(-18, flesh=LEAN, stowage_density=1e-6) == pytest.approx(air, rel=1e-6)


@pytest.mark.parametrize("stowage", [400, 550, 850])
def test_a_stack_leads_heat_between_the_bounds_of_hashin_and_shtrikman(stowage):
    """Hashin & Shtrikman 1962: an isotropic mix of two; with flesh as matrix the upper bound itself."""
    k1, k2 = fish.flesh_conductivity(-18, flesh=LEAN), np.polyval(fish.AIR_CONDUCTIVITY[::-1], -18.0)
    pores = 1 - stowage / fish.flesh_density(-18, flesh=LEAN)
    upper = k1 + pores / (1 / (k2 - k1) + (1 - pores) / (3 * k1))
    assert fish.stacked_conductivity(-18, flesh=LEAN, stowage_density=stowage) == pytest.approx(
        upper, rel=1e-12
    )


def test_every_conductivity_is_finite_and_positive_over_the_whole_range():
    for flesh in (COD, HERRING, LEAN, Flesh(1, 0, 0, 0), Flesh(0.25, 0.6, 0.1, 0.05)):
        values = fish.stacked_conductivity(RANGE, flesh=flesh, stowage_density=530)
        assert np.all(np.isfinite(values) & (values > 0))


def test_conductivity_rises_as_fish_freezes():
    frozen = fish.flesh_conductivity(np.linspace(-45, -1, 200), flesh=LEAN)
    assert np.all(np.diff(frozen) < 0)
