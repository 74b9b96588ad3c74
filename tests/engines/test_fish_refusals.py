"""What the fish engine refuses, and that it names the argument and the value."""

import numpy as np
import pytest

from coop.engines import fish
from coop.engines.fish import Flesh

COD = Flesh(water=0.8122, protein=0.1781, fat=0.0067, ash=0.0116)
OF_TEMPERATURE = {
    "ice_fraction": {},
    "enthalpy": {},
    "flesh_density": {},
    "flesh_conductivity": {},
    "stacked_conductivity": {"stowage_density": 530.0},
}
OF_FLESH = ["half_frozen_temperature", "latent_heat"]


@pytest.mark.parametrize(("name", "more"), OF_TEMPERATURE.items())
@pytest.mark.parametrize("value", [-60.0, -45.001, 40.001, 80.0, float("nan"), float("inf"), float("-inf")])
def test_a_temperature_out_of_range_is_refused_by_name_and_value(name, more, value):
    with pytest.raises(ValueError, match=rf"^temperature must be between -45 and 40 °C, not {value}$"):
        getattr(fish, name)(value, flesh=COD, **more)


@pytest.mark.parametrize(("name", "more"), OF_TEMPERATURE.items())
@pytest.mark.parametrize("value", [-45.0, 40.0])
def test_both_ends_of_the_range_are_allowed(name, more, value):
    assert np.isfinite(getattr(fish, name)(value, flesh=COD, **more))


def test_one_bad_temperature_among_good_ones_is_named():
    with pytest.raises(ValueError, match=r"^temperature .* not 80"):
        fish.enthalpy([-18.0, 80.0, 5.0], flesh=COD)


@pytest.mark.parametrize("value", [-1e6, 1e6, float("nan"), float("inf")])
def test_an_enthalpy_out_of_range_is_refused_by_name_and_value(value):
    with pytest.raises(ValueError, match=r"^enthalpy must be between .* J/kg, not"):
        fish.temperature(value, flesh=COD)


def test_the_enthalpies_of_both_ends_are_allowed():
    ends = fish.enthalpy([-45.0, 40.0], flesh=COD)
    np.testing.assert_allclose(fish.temperature(ends, flesh=COD), [-45, 40], atol=1e-9)


@pytest.mark.parametrize("share", ["water", "protein", "fat", "ash"])
@pytest.mark.parametrize("value", [-0.01, 1.01, 80.0, float("nan"), float("inf")])
def test_a_fraction_that_cannot_be_is_refused_by_name_and_value(share, value):
    flesh = COD._replace(**{share: value})
    for call in calls(flesh):
        with pytest.raises(ValueError, match=rf"^flesh\.{share} must be .* not {value}$"):
            call()


@pytest.mark.parametrize(("water", "total"), [(0.70, 0.8964), (0.9, 1.0964)])
def test_fractions_that_do_not_sum_to_one_are_refused_with_their_sum(water, total):
    for call in calls(COD._replace(water=water)):
        with pytest.raises(
            ValueError, match=rf"^sum of water, protein, fat and ash must be 1 .* not {total}"
        ):
            call()


def test_fractions_are_forgiven_a_fiftieth():
    for total in (0.98, 1.02):
        flesh = Flesh(*(share * total / sum(COD[:4]) for share in COD[:4]))
        assert fish.enthalpy(-18, flesh=flesh) > 0


@pytest.mark.parametrize("value", [0.0, 1.0, -0.05, -5.1, -40.0, float("nan"), float("-inf")])
def test_a_freezing_point_that_no_fish_has_is_refused(value):
    for call in calls(COD._replace(freezing_point=value)):
        with pytest.raises(
            ValueError, match=rf"^flesh\.freezing_point must be between -5 and -0\.1 °C, not {value}$"
        ):
            call()


@pytest.mark.parametrize("flesh", [Flesh(0, 0.5, 0.5, 0), Flesh(0.28, 0.72, 0, 0), Flesh(0, 0, 1, 0)])
def test_flesh_whose_water_is_all_bound_is_refused(flesh):
    for call in calls(flesh):
        with pytest.raises(ValueError, match=r"^flesh\.water must be more than the 0\.4 kg"):
            call()


def test_flesh_of_which_half_can_never_freeze_has_no_half_frozen_temperature():
    dry = Flesh(0.4, 0.55, 0.03, 0.02)
    with pytest.raises(ValueError, match=r"^flesh\.water must be more than twice .* not 0\.4$"):
        fish.half_frozen_temperature(flesh=dry)


@pytest.mark.parametrize("value", [0.0, -530.0, 1100.0, float("nan"), float("inf")])
def test_a_stowage_that_cannot_be_is_refused_with_the_most_that_can(value):
    with pytest.raises(
        ValueError, match=rf"^stowage_density must be above 0 and at most .* kg/m³, not {value}$"
    ):
        fish.stacked_conductivity(-18, flesh=COD, stowage_density=value)


def calls(flesh):
    """Every function of the engine, ready to be asked about this flesh."""
    return [
        *(lambda n=n, m=m: getattr(fish, n)(-18.0, flesh=flesh, **m) for n, m in OF_TEMPERATURE.items()),
        *(lambda n=n: getattr(fish, n)(flesh=flesh) for n in OF_FLESH),
        lambda: fish.temperature(50e3, flesh=flesh),
    ]
