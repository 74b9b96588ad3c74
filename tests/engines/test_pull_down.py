"""A freezer with its load: fish and machine together, energy and cost."""

from fractions import Fraction

import numpy as np
import pytest

from coop.engines import fish
from coop.engines.fish import Flesh
from coop.engines.freezing import freezing_time
from coop.engines.freezing_shape import Body
from coop.engines.pull_down import (
    DAY,
    Freezer,
    core_after,
    electric_energy,
    energy_cost,
    heat_removed,
    pull_down,
    rated_extraction,
    time_to_core,
)
from tests.engines.freezing_oracle import COD, times_to

HOUR = 3600.0
WHITE = Flesh(water=0.803, protein=0.18, fat=0.006, ash=0.011)
BODY = Body("ellipsoid", 0.06, 2, 5)
STRONG = Freezer(air=-25.0, film=8.0)


def chest(kilograms_a_day, **changes):
    return STRONG._replace(extraction=rated_extraction(kilograms_a_day, flesh=COD), **changes)


def loaded(mass=20.0, freezer=None, **changes):
    asked = {"body": BODY, "initial": 20.0, "flesh": COD} | changes
    return pull_down(freezer=freezer or chest(20.0), mass=mass, **asked)


FAO_TABLE_30 = [(40, 100.9), (30, 92.0), (15, 78.9), (10, 74.5), (5, 70.1)]
"""°C: kcal/kg to −18 °C. Johnston, Nicholson, Roger & Stroud 1994, FAO Fisheries Technical Paper 340, ch. 19,
Table 30, heat to be removed when freezing white fish; its figure for 20 °C lost a digit in print."""


@pytest.mark.parametrize(("initial", "expected"), FAO_TABLE_30)
def test_heat_to_be_removed_is_that_of_fao_340_within_5_per_cent(initial, expected):
    """What Chen's enthalpy is granted against the same paper's Table 31."""
    removed = heat_removed(initial=initial, final=-18.0, flesh=WHITE) / 4186.8
    assert removed == pytest.approx(expected, rel=0.05)


def test_electricity_to_freeze_is_that_of_plants():
    """70 to 130 kWh a tonne in plants, Energy Procedia 147:649. A coefficient of performance of 0.8 to 1.2
    for the whole plant, pumps and fans included, is common practice, no source."""
    for coefficient in (0.8, 1.0, 1.2):
        energy = electric_energy(
            heat=1000 * heat_removed(initial=15.0, final=-20.0, flesh=WHITE), time=0.0,
            coefficient_of_performance=coefficient, standing=0.0,
        )  # fmt: skip
        assert 70 <= energy / 3.6e6 <= 130


def test_a_freezer_freezes_in_a_day_what_it_is_said_to():
    """20 kg from +25 to −18 °C in 24 h: the whole heat of it, at the rate that this names."""
    heat = 20 * heat_removed(initial=25.0, final=-18.0, flesh=COD)
    assert rated_extraction(20.0, flesh=COD) * DAY == pytest.approx(heat)


@pytest.mark.parametrize("mass", [1.0, 10.0, 20.0, 60.0])
def test_a_load_takes_the_longer_of_both_ways_at_least_and_their_sum_at_most(mass):
    freezer = chest(20.0)
    alone = freezing_time(body=BODY, film=freezer.film, air=freezer.air, initial=20.0, core=-18.0, flesh=COD)
    machine = mass * heat_removed(initial=20.0, final=-18.0, flesh=COD) / freezer.extraction
    found = time_to_core(loaded(mass, freezer, margin=0.0), -18.0)
    assert max(alone, machine) * 0.999 <= found <= (alone + machine) * 1.001


@pytest.mark.parametrize("dimensions", [1, 2, 3])
@pytest.mark.parametrize("share", [0.5, 1.0, 2.0])
def test_a_machine_that_is_outrun_freezes_as_finite_volumes_say(share, dimensions):
    """The heat that leaves is capped in both; ±10 % as Pham is granted. At a share of 1 the machine takes on
    average what the fish gives off on average."""
    body = {1: Body("slab", 0.08), 2: Body("cylinder", 0.08), 3: Body("ellipsoid", 0.08, 1, 1)}[dimensions]
    shared = {"film": 12.0, "air": -28.0}
    time = freezing_time(body=body, initial=20.0, core=-10.0, flesh=COD, **shared)
    extraction = share * heat_removed(initial=20.0, final=-10.0, flesh=COD) / time
    measured = times_to(
        [-10.0, -18.0], half=0.04, dimensions=dimensions, initial=20.0, extraction=extraction, **shared
    )
    curve = loaded(1.0, Freezer(extraction=extraction, **shared), body=body, margin=0.0)
    np.testing.assert_allclose(time_to_core(curve, np.array([-10.0, -18.0])), measured, rtol=0.10)


def test_a_freezer_without_end_of_strength_freezes_as_the_fish_allows():
    time = freezing_time(body=BODY, film=8.0, air=-25.0, initial=20.0, core=-18.0, flesh=COD)
    assert time_to_core(loaded(500.0, STRONG, margin=0.0), -18.0) == pytest.approx(time, rel=1e-3)
    assert time_to_core(loaded(500.0, STRONG), -18.0) == pytest.approx(1.1 * time, rel=1e-3)


@pytest.mark.parametrize(
    "worse",
    [
        {"mass": 30.0},
        {"freezer": chest(10.0)},
        {"freezer": chest(20.0, air=-20.0)},
        {"freezer": chest(20.0, film=4.0)},
        {"initial": 30.0},
        {"body": Body("slab", 0.06)},
        {"margin": 0.3},
    ],
)
def test_more_fish_and_a_weaker_freezer_are_never_ready_sooner(worse):
    at = np.linspace(0, 4 * DAY, 200)
    usual, other = loaded(), loaded(**worse)
    assert time_to_core(other, -18.0) > time_to_core(usual, -18.0)
    cold = at[at >= usual.time[0]]
    assert np.all(core_after(other, cold) >= core_after(usual, cold))


def test_fish_is_never_colder_than_the_air_nor_warmer_with_time():
    cores = core_after(loaded(), np.linspace(0, 20 * DAY, 2000))
    assert np.all(np.diff(cores) <= 0)
    assert cores[0] == 20.0
    assert -25.0 < cores[-1] < -24.9


@pytest.mark.parametrize("dimensions", [1, 2, 3])
def test_no_core_is_said_to_be_colder_than_finite_volumes_have_it(dimensions):
    """With the margin of ten in a hundred that the cautious curve keeps."""
    body = {1: Body("slab", 0.06), 2: Body("cylinder", 0.06), 3: Body("ellipsoid", 0.06, 1, 1)}[dimensions]
    cores = [-3.0, -5.0, -10.0, -15.0, -18.0, -20.0]
    at = times_to(cores, half=0.03, dimensions=dimensions, film=8.0, air=-22.0, initial=25.0)
    said = core_after(loaded(1.0, Freezer(-22.0, 8.0), body=body, initial=25.0), at)
    assert np.all(said >= cores)


def test_the_core_read_off_at_the_time_it_is_reached_is_that_core():
    curve, cores = loaded(), np.array([-10.5, -12.0, -18.0, -24.0])
    np.testing.assert_allclose(core_after(curve, time_to_core(curve, cores)), cores, rtol=1e-9)


def test_heat_of_the_curve_is_the_enthalpy_that_the_load_lost():
    curve = loaded(20.0)
    fall = fish.enthalpy(20.0, flesh=COD) - fish.enthalpy(curve.core, flesh=COD)
    np.testing.assert_allclose(curve.heat, 20.0 * fall, rtol=1e-9)


def test_energy_is_heat_over_the_coefficient_and_what_the_freezer_takes_in_any_case():
    asked = {"heat": 7.2e6, "time": HOUR, "coefficient_of_performance": 1.5, "standing": 100.0}
    assert electric_energy(**asked) == pytest.approx(7.2e6 / 1.5 + 100 * HOUR)


def test_three_kilowatt_hours_at_90_ngwee_cost_270():
    assert energy_cost(3 * 3.6e6, price=90) == 270
    assert energy_cost(1.8e6, price=1) == Fraction(1, 2)


def test_a_core_that_the_air_does_not_allow_is_never_reached():
    assert list(time_to_core(loaded(), np.array([-25.0, -40.0]))) == [np.inf, np.inf]


def test_arrays_equal_their_scalars():
    curve = loaded()
    for function, values in ((time_to_core, [-10.0, -18.0, -24.0]), (core_after, [0.0, 8e4, 1e5])):
        together = function(curve, np.array(values))
        np.testing.assert_array_equal(together, [function(curve, one) for one in values])


@pytest.mark.parametrize(
    ("asked", "named"),
    [
        (lambda: loaded(0.0), "mass must be positive and finite, not 0.0"),
        (lambda: loaded(np.nan), "mass .* not nan"),
        (lambda: loaded(freezer=STRONG._replace(extraction=0.0)), "freezer.extraction .* not 0.0"),
        (lambda: loaded(freezer=STRONG._replace(air=-10.0)), "air .* not -10.0"),
        (lambda: loaded(freezer=STRONG._replace(film=np.inf)), "film .* not inf"),
        (lambda: loaded(initial=50.0), "initial .* not 50.0"),
        (lambda: loaded(margin=-0.1), "margin must be 0 or more"),
        (lambda: rated_extraction(-1.0, flesh=COD), "mass_per_day .* not -1.0"),
        (lambda: heat_removed(initial=-20.0, final=-18.0, flesh=COD), "final must be not above"),
        (lambda: time_to_core(loaded(), -5.0), "core .* not -5.0"),
        (lambda: core_after(loaded(), -1.0), "time .* not -1.0"),
        (lambda: core_after(loaded(), np.inf), "time .* not inf"),
        (
            lambda: electric_energy(heat=1, time=1, coefficient_of_performance=0, standing=1),
            "coefficient_of_performance .* not 0",
        ),
        (
            lambda: electric_energy(heat=-1, time=1, coefficient_of_performance=1, standing=1),
            "heat must be 0 or more",
        ),
        (lambda: energy_cost(-1.0, price=90), "energy must be 0 or more"),
        (lambda: energy_cost(1.0, price=0.5), "price must be whole"),
    ],
)
def test_what_cannot_be_is_refused(asked, named):
    with pytest.raises(ValueError, match=named):
        asked()
